"""The field area's addresses: who may, what comes, what is refused and how."""

from collections.abc import Callable
from typing import Any
from uuid import UUID, uuid4

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from tests.scenario import (
    CR,
    IR,
    OFF_SITE,
    OWNER,
    PASSWORD,
    SECOND,
    STRANGER,
    TECHNICIAN,
    Cast,
)
from tests.webapp.desk import Desk

DeskAt = Callable[[str], Desk]


def round_id(desk: Desk) -> UUID:
    with desk.work() as work:
        return work.round_id


def a_reading(desk: Desk, **fields: Any) -> dict[str, Any]:
    """Return an entry for the first point of a card that is open."""
    with desk.work() as work:
        work.confirm("breaker 52", CR)
        card = work.card("breaker 52", CR)
        return work.reading(card, card.points[0], "40.1", **fields)


def post(client: FlaskClient, path: str, body: Any, **headers: str) -> TestResponse:
    """Post JSON as the tablet does: with a token fetched just before."""
    token = client.get("/field/csrf.json").get_json()["token"]
    sent = {"X-CSRFToken": token, "Accept": "application/json", **headers}
    return client.post(path, json=body, headers=sent)


def faults_of(response: TestResponse) -> dict[str, str]:
    return {f["field"]: f["message"] for f in response.get_json()["faults"]}


@pytest.mark.parametrize("path", ["/field/", "/field/csrf.json"])
def test_nobody_comes_in_without_signing_in(desk_at: DeskAt, path: str) -> None:
    client = desk_at("opened").passer_by().client
    page = client.get(path)
    assert page.status_code == 302
    assert "/account/sign-in" in page.headers["Location"]
    program = client.get(path, headers={"Accept": "application/json"})
    assert program.status_code == 401
    assert faults_of(program) == {"": "Sign in again."}


@pytest.mark.parametrize("who", [OFF_SITE, STRANGER], ids=lambda who: who.sign_in)
def test_a_round_of_another_site_is_not_there(desk_at: DeskAt, who: Cast) -> None:
    desk = desk_at("opened")
    client = desk.person(who).client
    for path in ("", "document.json"):
        found = client.get(f"/field/rounds/{round_id(desk)}/{path}")
        assert found.status_code == 404


def test_the_document_holds_all_that_a_card_needs(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    client = desk.person(TECHNICIAN).client
    document = client.get(f"/field/rounds/{round_id(desk)}/document.json").get_json()
    procedures, rules = document["procedures"], document["rules"]
    tags = {one["tag"] for one in document["instruments"]}
    assert "IR-ALIEN" not in tags
    assert document["disclaimer"]
    assert {cell["kind"] for cell in document["cells"]} <= set(document["symbols"])
    for card in document["cards"]:
        assert card["procedure"] in procedures
        assert set(card["preconditions"]) <= set(document["preconditions"])
        assert {point["rule_id"] for point in card["points"]} <= set(rules)


def test_an_entry_is_stored_once_however_often_it_comes(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    entry = a_reading(desk)
    path = f"/field/rounds/{round_id(desk)}/entries"
    client = desk.person(TECHNICIAN).client
    body = {"device": "tablet 7", "entries": [entry]}
    statuses = []
    for _ in range(2):
        answer = post(client, path, body)
        assert answer.status_code == 200
        statuses.append(answer.get_json()["results"][0]["status"])
    assert statuses == ["stored", "known"]
    other = {"device": "tablet 7", "entries": [{**entry, "text": "41"}]}
    assert post(client, path, other).get_json()["results"][0]["status"] == "conflict"
    by_other = post(desk.person(SECOND).client, path, body).get_json()
    assert by_other["results"][0]["status"] == "conflict"


def test_one_refused_entry_takes_no_other_with_it(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    entry = a_reading(desk)
    wrong = {**entry, "key": str(uuid4()), "text": "forty"}
    path = f"/field/rounds/{round_id(desk)}/entries"
    client = desk.person(TECHNICIAN).client
    body = {"device": "tablet 7", "entries": [wrong, entry]}
    first, second = post(client, path, body).get_json()["results"]
    assert first["status"] == "refused"
    assert first["faults"][0]["field"] == "text"
    assert "is not a number" in first["faults"][0]["message"]
    assert second["status"] == "stored"
    assert len(second["card"]["readings"]) == 1


ENVELOPES: dict[str, tuple[Any, str]] = {
    "no object": ([], "entries"),
    "no entries": ({"device": "tablet"}, "entries"),
    "no device": ({"entries": []}, "device"),
    "an entry that is no object": ({"device": "t", "entries": [1]}, "entries"),
    "too many at once": ({"device": "t", "entries": [{}] * 501}, "entries"),
}


@pytest.mark.parametrize(("body", "field"), ENVELOPES.values(), ids=ENVELOPES)
def test_what_is_no_envelope_is_refused_whole(
    desk_at: DeskAt, body: Any, field: str
) -> None:
    desk = desk_at("opened")
    path = f"/field/rounds/{round_id(desk)}/entries"
    answer = post(desk.person(TECHNICIAN).client, path, body)
    assert answer.status_code == 422
    assert set(faults_of(answer)) == {field}


def test_entries_need_the_token_of_the_session(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    entry = a_reading(desk)
    path = f"/field/rounds/{round_id(desk)}/entries"
    client = desk.person(TECHNICIAN).client
    body = {"device": "tablet 7", "entries": [entry]}
    answer = post(client, path, body, **{"X-CSRFToken": "of somebody else"})
    assert answer.status_code == 400
    with desk.work() as work:
        assert work.facts("breaker 52", CR).readings == []


def test_an_owner_reads_and_records_nothing(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    entry = a_reading(desk)
    path = f"/field/rounds/{round_id(desk)}/entries"
    client = desk.person(OWNER).client
    answer = post(client, path, {"device": "tablet 7", "entries": [entry]})
    assert answer.status_code == 403
    assert "you are signed in as owner" in faults_of(answer)[""]


SIGNING: dict[str, tuple[dict[str, Any], str]] = {
    "no password": ({"password": ""}, "password"),
    "another password": ({"password": "not-the-one"}, "password"),
    "no cards": ({"card_ids": []}, "card_ids"),
    "no identifier": ({"card_ids": ["1"]}, "card_ids"),
    "what was seen, not by card": ({"seen": ["1"]}, "seen"),
    "what was seen, no identifier": ({"seen": {str(UUID(int=1)): ["1"]}}, "seen"),
    "an intent without end": (
        {"intents": {str(UUID(int=1)): {"device": "t" * 81}}},
        "intents",
    ),
    "an intent whose digest is none": (
        {"intents": {str(UUID(int=1)): {"digest": "A-G"}}},
        "intents",
    ),
}


@pytest.mark.parametrize(("change", "field"), SIGNING.values(), ids=SIGNING)
def test_signing_says_what_is_missing(
    desk_at: DeskAt, change: dict[str, Any], field: str
) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        work.confirm("breaker 52", IR)
        work.read("breaker 52", IR, "9", "9", "9", *["40"] * 6)
        work.confirm("breaker 52", IR, after=True)
        card = work.card("breaker 52", IR)
    body = {"card_ids": [str(card.id)], "password": PASSWORD, **change}
    path = f"/field/rounds/{round_id(desk)}/signatures"
    answer = post(desk.person(TECHNICIAN).client, path, body)
    assert answer.status_code == 422
    assert set(faults_of(answer)) == {field}
    with desk.work() as work:
        assert work.facts("breaker 52", IR).signed == []


def test_a_signed_card_comes_back_with_its_signature(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        work.confirm("breaker 52", IR)
        work.read("breaker 52", IR, "9", "9", "9", *["40"] * 6)
        work.confirm("breaker 52", IR, after=True)
        card = work.card("breaker 52", IR)
    body = {"card_ids": [str(card.id)], "password": PASSWORD}
    path = f"/field/rounds/{round_id(desk)}/signatures"
    answer = post(desk.person(TECHNICIAN).client, path, body).get_json()
    shown = answer["cards"][0]
    assert shown["state"] == "signed"
    assert shown["signatures"][-1]["by"] == TECHNICIAN.name
    again = post(desk.person(TECHNICIAN).client, path, body)
    assert again.status_code == 409
