"""A suggestion from the criteria page to the package: off until a lead adopts it."""

import json
from datetime import timedelta
from pathlib import Path

import pytest
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.schema import Lineup, LogEntry, Package
from models.services.criteria.given_in_force import given_in_force
from models.services.criteria.suggestions import DOCUMENT, suggestions
from models.services.field.round_document import round_document
from tests.conftest import Stages
from tests.optional_round import begin_with_optional_cards
from tests.procedure_proof import register_instrument
from tests.scenario import (
    LEAD,
    OTHER_SITE,
    TECHNICIAN,
    Work,
    fixed_id,
    lineup_id,
)
from tests.webapp.desk import Desk, Page, Visitor
from tests.webapp.pdf.outside import page_texts
from webapp.package_files import make_signed

LIST = f"/turnover/lineups/{lineup_id()}/criteria"
TORQUE, MOST = "bolt_torque", "torque_most"
REASON = "The owner's standard wants no bolt stretched."
# Half an inch, grade 5, dry: 48 lb-ft (T 100.12.1); 1.1 times that is 52.8.
BOLT = {"bolt_diameter_in": 0.5, "bolt_material": "grade_5", "bolt_lubricated": "no"}
SET, FOUND = ("50", "55"), ("within", "outside")


def planned(session: Session) -> Work:
    """Open a round that wants the bolts of the bus too."""
    last = session.scalars(select(func.max(LogEntry.at))).one()
    at = last + timedelta(minutes=1)  # the page has the clock of today
    register_instrument(session, TORQUE, at)
    return begin_with_optional_cards(session, at)


def read(work: Work) -> None:
    """Tighten every bolt of the bus: two as SET says, the rest like the first."""
    card = work.card("bus", TORQUE)
    work.confirm("bus", TORQUE, conditions=BOLT)
    for number, point in enumerate(card.points):
        work.tick()
        text = SET[number] if number < len(SET) else SET[0]
        entry = work.entry(
            card,
            "reading",
            point_id=str(point.id),
            text=text,
            unit="lb-ft",
            conditions=BOLT,
            instrument_id=str(fixed_id("own")),
        )
        work.store(entry)
    work.confirm("bus", TORQUE, after=True, conditions=BOLT)


def rule_of(work: Work) -> tuple[list[float], list[str]]:
    """Return the upper ends of the tablet's rule, and the documents that it cites."""
    document = round_document(
        work.session, person_id=TECHNICIAN.id, round_id=work.round_id, now=work.at
    )
    (rule,) = (r for r in document["rules"].values() if r["procedure"] == TORQUE)
    highs = [b["value"] for b in rule["bounds"] if b["kind"] == "high"]
    return highs, [cite["document"] for cite in rule["cite"]]


def adopt(lead: Visitor) -> Page:
    """Adopt the suggestion on the criteria page, with a reason."""
    listed = lead.get(LIST)
    assert "Suggestions of this program" in listed.text
    (address,) = (link for link in listed.links if f"adopt={MOST}" in link)
    asked = lead.get(address)
    assert (asked.fields["value"], asked.fields["document"]) == ("1.1", DOCUMENT)
    typed = {**asked.fields, **asked.chosen, "reason": ""}
    refused = Page(lead.client.post(address, data=typed))
    assert refused.status == 422 and "reason" in refused.faults
    looked = Page(lead.client.post(address, data=typed | {"reason": REASON}))
    assert looked.status == 200, looked.faults
    kept = looked.fields | {"step": "store"}
    return lead.follow(lead.client.post(address, data=kept))


@pytest.mark.needs("poppler")
def test_off_until_a_lead_adopts_it_and_said_wherever_it_decides(
    sqlite_stages: Stages, tmp_path: Path
) -> None:
    before = Desk(sqlite_stages.fresh("place"))
    with Session(before.app.extensions["engine"]) as session:
        work = planned(session)
        assert DOCUMENT not in rule_of(work)[1] and rule_of(work)[0] == []
        read(work)
        assert set(work.verdicts("bus", TORQUE).values()) == {"within"}
    before.close()

    desk = Desk(sqlite_stages.fresh("place"))
    assert "Entered." in adopt(desk.person(LEAD)).text
    page = desk.person(TECHNICIAN).get(LIST)
    assert DOCUMENT in page.text and f"adopt={MOST}" not in str(page.links)
    engine = desk.app.extensions["engine"]
    with Session(engine, expire_on_commit=False) as session:
        entry = session.scalars(
            select(LogEntry).where(LogEntry.body.contains(MOST))
        ).one()
        assert REASON in entry.body and entry.actor_id == LEAD.id
        other = session.get_one(Lineup, lineup_id(OTHER_SITE))
        assert given_in_force(session, other.id) == []
        assert MOST in {one.quantity for one in suggestions(session, other)}

        work = planned(session)
        highs, documents = rule_of(work)
        assert DOCUMENT in documents and 52.8 in {round(high, 6) for high in highs}
        read(work)
        assert tuple(work.verdicts("bus", TORQUE).values())[:2] == FOUND
        facts = work.facts("bus", TORQUE)
        outside = next(r for r in facts.current if r.text == SET[1])
        said = facts.say(outside.judgement)
        assert "52.80" in said["reason"]
        assert any(DOCUMENT in line for line in said["working"])
        for label, procedure in work.cards:
            if procedure != TORQUE:
                work.withdraw(label, procedure)
        work.sign(("bus", TORQUE))
        work.dispose(outside.id)
        pdf = work.turn_over(make_signed, accept=False)
        document = json.loads(session.scalars(select(Package)).one().document)
        assert DOCUMENT in json.dumps(document["cards"])
        printed = " ".join(" ".join(page_texts(pdf, tmp_path)).split())
        assert "Suggestion of this program" in printed
    desk.close()
