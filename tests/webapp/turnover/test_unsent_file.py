"""A file that a tablet carried off is taken in, once, as its author's."""

import json
from base64 import b64encode, urlsafe_b64decode, urlsafe_b64encode
from collections.abc import Callable
from io import BytesIO
from typing import Any
from uuid import uuid4

import pytest
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from sqlalchemy import select

from models.schema import LogEntry, Person, Reading, TabletAct
from models.services.keeping.check_record import check_record
from tests.scenario import LEAD, SECOND, TECHNICIAN
from tests.webapp.desk import Desk, Page, Visitor
from tests.webapp.field.test_field import a_reading, round_id
from tests.webapp.field.test_tablets import TABLET, here

DeskAt = Callable[[str], Desk]
KEY = bytes(range(32))  # of the author on this tablet


def sealed(key: bytes, plain: bytes, bound_to: str) -> dict[str, str]:
    """Return what WebCrypto would write."""
    iv = uuid4().bytes[:12]
    data = AESGCM(key).encrypt(iv, plain, bound_to.encode())
    named = {"iv": iv, "data": data}
    return {n: urlsafe_b64encode(v).decode().rstrip("=") for n, v in named.items()}


def carried_off(desk: Desk, entry: dict[str, Any]) -> dict[str, Any]:
    """Return the file of a tablet with one reading."""
    share = here(desk.person(TECHNICIAN).client).get_json()["share"]
    of = f"{round_id(desk)}/outbox:{entry['key']}"
    plain = json.dumps({"order": 1, "entry": entry}).encode()
    bound = f"{TABLET}/{TECHNICIAN.id}"
    return {
        "format": "witnessmark-unsent-1",
        "tablet": str(TABLET),
        "device": "tablet 7f3a",
        "person": {"id": str(TECHNICIAN.id), "name": TECHNICIAN.name},
        "by_server": sealed(urlsafe_b64decode(share + "="), KEY, bound),
        "rounds": [
            {
                "round": str(round_id(desk)),
                "label": None,
                "entries": [{"id": of, "sealed": sealed(KEY, plain, of)}],
                "photos": [{}],
            }
        ],
    }


def send(who: Visitor, data: bytes, *, take: bool = False) -> Page:
    token = who.client.get("/field/csrf.json").get_json()["token"]
    fields: dict[str, Any] = {"csrf_token": token}
    if take:
        fields["held"] = b64encode(data).decode()
        return Page(who.client.post("/turnover/tablets/file/take", data=fields))
    fields["file"] = (BytesIO(data), "unsent.json")
    return Page(who.client.post("/turnover/tablets/file", data=fields))


def test_it_is_taken_in_as_the_authors_though_they_left_and_it_was_revoked(
    desk_at: DeskAt,
) -> None:
    desk = desk_at("opened")
    entry = a_reading(desk)
    data = json.dumps(carried_off(desk, entry)).encode()
    with desk.work() as work:
        work.session.get_one(Person, TECHNICIAN.id).active = False
        row = TabletAct(id=uuid4(), tablet_id=TABLET, act="revoke", reason="Lost.")
        row.by_id, row.at = LEAD.id, work.tick()
        work.session.add(row)
    lead = desk.person(LEAD)
    shown = send(lead, data)
    assert shown.status == 200 and TECHNICIAN.name in shown.text
    for words in ("1 entry of", "Lost.", "no longer signs in", "1 photograph is"):
        assert words in shown.text
    with desk.work() as work:
        assert list(work.session.scalars(select(Reading))) == []
    assert "1 of 1 entry is in the record" in send(lead, data, take=True).text
    assert "1 of them was there before" in send(lead, data, take=True).text
    with desk.work() as work:
        (reading,) = work.session.scalars(select(Reading))
        assert (reading.by_id, reading.device) == (TECHNICIAN.id, "tablet 7f3a")
        asked = select(LogEntry).where(LogEntry.action == "reading")
        (logged,) = work.session.scalars(asked)
        body = json.loads(logged.body)
        assert (body["brought_by"], body["tablet"]) == (str(LEAD.id), str(TABLET))
        assert body["tablet_revoked_at"]
        assert check_record(work.session).faults == []


def of_another_key(file: Any) -> None:
    file["by_server"]["data"] = file["by_server"]["data"][::-1]


def of_another_round(file: Any) -> None:
    file["rounds"][0]["entries"][0]["id"] = f"{uuid4()}/outbox:{uuid4()}"


def of_another_person(file: Any) -> None:
    file["person"]["id"] = str(SECOND.id)


def unsealed(file: Any) -> None:
    file["rounds"][0]["entries"][0] |= {"sealed": None, "entry": {"key": "1"}}


def of_elsewhere(file: Any) -> None:
    file["tablet"] = str(uuid4())


def round_elsewhere(file: Any) -> None:
    file["rounds"][0]["round"] = str(uuid4())


def empty(file: Any) -> None:
    file["rounds"] = []


WRONG: dict[str, tuple[Callable[[Any], None], str]] = {
    "its key was changed": (of_another_key, "Its key does not open"),
    "an entry was moved": (of_another_round, "does not open: the file was changed"),
    "somebody else is named": (of_another_person, "never gave"),
    "it is not sealed": (unsealed, "only"),
    "of another installation": (of_elsewhere, "does not know"),
    "a round that is not there": (round_elsewhere, "none that you see"),
    "nothing in it": (empty, "nothing unsent"),
}


def test_what_is_no_such_file_is_said_and_nothing_is_stored(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    good = carried_off(desk, a_reading(desk))
    lead = desk.person(LEAD)
    for what in (b"", b"[" * 9000, b'{"format": "witnessmark-unsent-1"'):
        assert "not whole" in send(lead, what).text
    for name, (change, words) in WRONG.items():
        file = json.loads(json.dumps(good))
        change(file)
        for take in (False, True):
            page = send(lead, json.dumps(file).encode(), take=take)
            assert page.status == 422, name
            assert words in page.text and "Nothing was stored" in page.text, name
    with desk.work() as work:
        assert list(work.session.scalars(select(Reading))) == []


@pytest.mark.parametrize("take", [False, True])
def test_it_is_a_leads_to_take_in(desk_at: DeskAt, take: bool) -> None:
    desk = desk_at("opened")
    data = json.dumps(carried_off(desk, a_reading(desk))).encode()
    assert send(desk.person(TECHNICIAN), data, take=take).status == 403
