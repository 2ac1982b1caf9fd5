"""The gate waits for tablets that took the round along, or a lead says why not."""

import json
from collections.abc import Callable
from uuid import uuid4

from sqlalchemy import select

from models.schema import LogEntry, TabletAct
from models.services.keeping.check_record import check_record
from models.services.turnover.gate import gate
from tests.scenario import LEAD, OFF_SITE, OWNER, TECHNICIAN
from tests.webapp.desk import Desk, Page, Visitor
from tests.webapp.field.test_field import post, round_id
from tests.webapp.field.test_tablets import TABLET, here

DeskAt = Callable[[str], Desk]


def decide(who: Visitor, path: str, field: str, reason: str) -> Page:
    """Send the form of a decision from the page of tablets."""
    token = who.client.get("/field/csrf.json").get_json()["token"]
    fields = {field: reason, "csrf_token": token}
    return Page(who.client.post(path, data=fields))


def codes(desk: Desk, which: str) -> list[str]:
    with desk.work() as work:
        found = gate(work.session, person_id=LEAD.id, round_id=work.round_id)
        return [line.code for line in getattr(found, which)]


def test_turnover_waits_for_a_tablet_until_it_is_given_back_or_released(
    desk_at: DeskAt,
) -> None:
    desk = desk_at("complete")
    where, said = f"/field/rounds/{round_id(desk)}", {"tablet": str(TABLET)}
    lead, client = desk.person(LEAD), desk.person(TECHNICIAN).client
    assert "No tablet has opened" in lead.get("/turnover/tablets").text
    here(client)
    assert "tablets" not in codes(desk, "still")
    post(client, f"{where}/taken", said)
    assert "tablets" in codes(desk, "still")
    post(client, f"{where}/given-back", said)
    assert "tablets" not in codes(desk, "still")
    post(client, f"{where}/taken", said)
    post(client, f"{where}/told", {**said, "entries": 3, "photos": 1})
    page = lead.get("/turnover/tablets").text
    assert "3 entries and 1 photograph" in page and TECHNICIAN.name in page
    path = f"/turnover/tablets/{TABLET}/rounds/{round_id(desk)}/release"
    prefix = f"release-{TABLET}-{round_id(desk)}-"
    empty = decide(lead, path, f"{prefix}reason", " ")
    assert empty.status == 422 and "Write why nobody waits" in empty.text
    assert decide(desk.person(TECHNICIAN), path, "", "").status == 403
    assert decide(desk.person(OFF_SITE), path, "", "").status in (403, 404)
    assert decide(lead, path, f"{prefix}reason", "Dropped.").status == 303
    assert "tablets" not in codes(desk, "still")
    assert "tablets_released" in codes(desk, "settled")
    again = decide(lead, path, f"{prefix}reason", "Dropped.")
    assert again.status == 409 and "does not wait for" in again.text
    with desk.work() as work:
        found = gate(work.session, person_id=LEAD.id, round_id=work.round_id)
        (sentence,) = found.seals.content["tablets"]
        assert sentence.endswith("Dropped.") and "tablet 7f3a" in sentence
        logged = select(LogEntry).where(LogEntry.action == "release tablet")
        (entry,) = work.session.scalars(logged)
        assert json.loads(entry.body)["reason"] == "Dropped."
        assert check_record(work.session).faults == []
    draft = lead.client.get(f"/turnover/rounds/{round_id(desk)}/draft.pdf")
    assert draft.status_code == 200
    post(client, f"{where}/taken", said)
    assert "tablets" in codes(desk, "still")


def test_a_lead_revokes_a_tablet_and_admits_it_again(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    lead, client = desk.person(LEAD), desk.person(TECHNICIAN).client
    here(client)
    for act, status in (("revoke", 403), ("admit", 200)):
        path, field = f"/turnover/tablets/{TABLET}/{act}", f"{act}-{TABLET}-reason"
        assert decide(lead, path, field, f"For {act}.").status == 303
        assert decide(lead, path, field, "Twice.").status == 409
        answer = here(client)
        assert answer.status_code == status
        if status == 403:
            assert "For revoke." in answer.get_data(as_text=True)
    assert decide(lead, f"/turnover/tablets/{uuid4()}/revoke", "", "").status == 404
    assert desk.person(OWNER).get("/turnover/tablets").status == 403
    with desk.work() as work:
        acts = select(TabletAct.act).order_by(TabletAct.at)
        assert list(work.session.scalars(acts)) == ["revoke", "admit"]
