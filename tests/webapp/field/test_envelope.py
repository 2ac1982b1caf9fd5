"""The envelope of entries: of this version, and of the one before it."""

import json
from collections.abc import Callable
from pathlib import Path
from string import Template
from typing import Any
from uuid import uuid4

from sqlalchemy import select

from models.procedures import PROCEDURES
from models.schema import LogEntry, Reading, TabletAct, TabletRound
from models.services.field.card_facts import before_codes
from models.services.field.entry_marks import entry_digest
from tests.scenario import (
    CONDITIONS,
    INSTRUMENT_OF,
    IR,
    LEAD,
    SECOND,
    TECHNICIAN,
    fixed_id,
)
from tests.webapp.desk import Desk
from tests.webapp.field.test_field import a_reading, faults_of, post, round_id
from tests.webapp.field.test_tablets import TABLET, here

DeskAt = Callable[[str], Desk]
# What a tablet of the version before sends, as it stands here for good.
BEFORE = Path(__file__).parents[2] / "data" / "envelope_of_0_10.json"


def sent_before(desk: Desk) -> dict[str, Any]:
    """Return the envelope of the version before, for the cards of the scenario."""
    with desk.work() as work:
        card = work.card("bus", IR)
        names = {
            "at": work.at.isoformat(),
            "card": card.id,
            "earlier_card": card.id,
            "point": card.points[0].id,
            "instrument": fixed_id(INSTRUMENT_OF[IR]),
            "code": next(iter(before_codes(IR)), "P1"),
        }
    found: dict[str, Any] = json.loads(Template(BEFORE.read_text()).substitute(names))
    found["entries"][1]["conditions"] = CONDITIONS[IR]
    return found


def statuses(answer: Any) -> list[str]:
    return [one["status"] for one in answer.get_json()["results"]]


def test_an_envelope_of_the_version_before_is_taken_in(desk_at: DeskAt) -> None:
    """And once more by the tablet's new version, whose entries carry a digest."""
    assert IR in PROCEDURES
    desk = desk_at("confirmed")
    path = f"/field/rounds/{round_id(desk)}/entries"
    client = desk.person(TECHNICIAN).client
    body = sent_before(desk)
    listed = body["entries"].pop()  # a confirmation: this round goes by scopes
    assert statuses(post(client, path, body)) == ["stored"] * 5
    again = [{**one, "offset_ms": 180_000} for one in body["entries"]]
    again = [{**one, "digest": entry_digest(one)} for one in again]
    assert statuses(post(client, path, {**body, "entries": again})) == ["known"] * 5
    earlier = desk_at("earlier")
    path = f"/field/rounds/{round_id(earlier)}/entries"
    listed["card_id"] = sent_before(earlier)["entries"][-1]["card_id"]
    client = earlier.person(TECHNICIAN).client
    assert statuses(post(client, path, {**body, "entries": [listed]})) == ["stored"]


def test_an_entry_changed_on_its_way_is_refused_alone(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    entry = a_reading(desk)
    path = f"/field/rounds/{round_id(desk)}/entries"
    client = desk.person(TECHNICIAN).client
    good = {**entry, "offset_ms": -3_600_000}
    good["digest"] = entry_digest(good)
    changed = {**good, "key": str(uuid4())}
    odd = {**entry, "key": str(uuid4()), "offset_ms": "an hour"}
    body = {"device": "tablet 7f3a", "entries": [changed, odd, good]}
    first, second, third = post(client, path, body).get_json()["results"]
    assert [one["status"] for one in (first, second, third)] == [
        "refused",
        "refused",
        "stored",
    ]
    assert "changed on its way" in first["faults"][0]["message"]
    assert second["faults"][0]["field"] == "offset_ms"
    with desk.work() as work:
        logged = work.session.scalars(
            select(LogEntry).where(LogEntry.action == "reading")
        )
        (body_,) = [json.loads(one.body) for one in logged]
        assert body_["offset_ms"] == -3_600_000
        assert len(list(work.session.scalars(select(Reading)))) == 1


def test_what_one_recorded_is_never_stored_as_anothers(desk_at: DeskAt) -> None:
    """Nor from a tablet that was revoked; what is left is noted with what arrives."""
    desk = desk_at("opened")
    entry = a_reading(desk)
    where = f"/field/rounds/{round_id(desk)}"
    first, second = (desk.person(who).client for who in (TECHNICIAN, SECOND))
    here(first)
    assert post(first, f"{where}/taken", {"tablet": str(TABLET)}).status_code == 200
    body = {
        "device": "tablet 7f3a",
        "tablet": str(TABLET),
        "person": str(TECHNICIAN.id),
        "program": "12",
        "left": {"entries": 2, "oldest_at": "2026-01-05T10:42:00+01:00"},
        "entries": [entry],
    }
    answer = post(second, f"{where}/entries", body)
    assert answer.status_code == 401
    assert answer.get_json()["state"] == "sign-in"
    assert "Nothing was stored" in faults_of(answer)["person"]
    wrong = post(first, f"{where}/entries", {**body, "left": [2]})
    assert wrong.status_code == 422
    with desk.work() as work:
        revoked = TabletAct(
            id=uuid4(), tablet_id=TABLET, act="revoke", reason="Lost.", by_id=LEAD.id
        )
        revoked.at = work.at
        work.session.add(revoked)
    answer = post(first, f"{where}/entries", body)
    assert answer.status_code == 403 and "Lost." in faults_of(answer)[""]
    with desk.work() as work:
        assert list(work.session.scalars(select(Reading))) == []
        back = TabletAct(
            id=uuid4(), tablet_id=TABLET, act="admit", reason="Found.", by_id=LEAD.id
        )
        back.at = work.tick()
        work.session.add(back)
    assert statuses(post(first, f"{where}/entries", body)) == ["stored"]
    with desk.work() as work:
        (held,) = work.session.scalars(select(TabletRound))
        assert (held.entries, held.tablet.program) == (2, "12")
