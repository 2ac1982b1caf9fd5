"""What a package says of safety, from acts that a tablet sent."""

from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from jsonschema import Draft202012Validator

from models.record.safety_report.attached import attached_safety
from models.record.shapes.json_schema import json_schema
from models.schema import Person, Round
from models.services.export.records import round_record
from models.services.keeping.log import texted
from models.services.safety.keep_acts import keep_act
from models.services.turnover.package import draft_document, package_view
from tests.models.services.safety.acting import CELL, Acting
from tests.scenario import CR, IR, LEAD, SECOND, TECHNICIAN, Cast, Work, within
from tests.shift import Shift
from tests.webapp.pdf.outside import page_texts
from webapp.pdf import render_package


def a_morning(acting: Acting) -> None:
    """Open a crew and a clearance and enter a cell, a minute apart."""
    crew, isolation = acting.crew, acting.isolation
    acts: list[dict[str, Any]] = [
        acting.open_crew(),
        acting.line("crew", crew, "G01a", noted={"telephone": "555 0101"}),
        acting.open_isolation(section=None),
        acting.line("isolation", isolation, "G04a", noted={"clearance_number": "4711"}),
        acting.act("enter", cell=CELL, isolation=isolation, crew=crew, stays={}),
    ]
    for act in acts:
        keep(acting.work, act | {"at": acting.work.tick(minutes=1).isoformat()})


def keep(work: Work, *acts: dict[str, Any], by: Cast = TECHNICIAN) -> None:
    """Keep acts as they are; what stands is no matter here."""
    session = work.session
    round_ = session.get_one(Round, work.round_id)
    for act in acts:
        keep_act(
            session,
            site=round_.lineup.site,
            by=session.get_one(Person, by.id),
            act=act,
            device="tablet 1",
            now=work.at,
        )


def draft(work: Work) -> dict[str, Any]:
    return draft_document(
        work.session, person_id=LEAD.id, round_id=work.round_id, now=work.at
    )


def faults(name: str, value: Any) -> list[str]:
    found = Draft202012Validator(json_schema(name)).iter_errors(value)
    return [f"{one.json_path}: {one.message[:200]}" for one in found]


def test_a_round_by_the_list_before_says_nothing_of_scopes(earlier: Work) -> None:
    by_the_list_before(earlier)
    document = draft(earlier)
    assert "safety" not in document
    assert document["schema"] == "witnessmark-package-2"
    assert all("safety" not in card for card in document["cards"])


def test_a_round_by_scopes_has_its_page_before_anything_is_recorded(
    opened: Work,
) -> None:
    document = draft(opened)
    assert document["schema"] == "witnessmark-package-3"
    assert document["safety"]["lines"] == 0
    assert document["safety"]["cards"]["in_time"] is False
    assert document["safety"]["governs"]
    assert faults("package_document", document) == []


@pytest.mark.needs("poppler")
def test_what_was_sent_stands_on_the_page_and_in_the_file(
    opened: Work, tmp_path: Any
) -> None:
    work = opened
    acting = Acting(work)
    a_morning(acting)
    work.tick(minutes=1)
    keep(work, acting.act("stop", stop=str(uuid4())), by=SECOND)
    document = draft(work)
    assert faults("package_document", document) == []
    assert faults("attached_safety", attached_safety(document)) == []
    safety = document["safety"]
    assert [one["act"] for one in safety["statements"]] == [
        *("open_crew", "line", "open_isolation", "line", "enter", "stop")
    ]
    assert safety["lines"] == 2
    assert safety["statements"][1]["said"] == [["Telephone", "555 0101"]]
    assert safety["statements"][1]["text"].startswith("I am the qualified person")
    assert [one["kind"] for one in safety["exceptions"]] == ["stop"]
    whole = " ".join(page_texts(render_package(document, ()), tmp_path))
    assert "Shift 1" in whole
    assert "4711" in whole
    assert f"Work stopped; not released. Said by {SECOND.name}." in whole
    assert safety["digest"] in whole
    assert round_record(work.session, work.round_id)["safety"] == safety


def test_a_card_by_its_scopes_rests_on_them_and_all_is_in_time(opened: Work) -> None:
    work = opened
    shift = Shift(work)
    shift.open()
    shift.before("breaker 52", CR)
    work.read("breaker 52", CR, "38.6", "39.4", "40.2")
    shift.after("breaker 52", CR)
    document = draft(work)
    assert faults("package_document", document) == []
    sheet = next(card for card in document["cards"] if "safety" in card)
    said = document["safety"]["statements"]
    own = [one for one in said if one["of"] == sheet["id"] and one["act"] == "line"]
    before = [one["code"] for one in own if one["scope"] == "test"]
    after = [one["code"] for one in own if one["scope"] == "after"]
    assert sheet["safety"] == {
        "shifts": [1],
        "clearances": ["4711"],
        "cell": "1",
        "before": len(before),
        "after": len(after),
    }
    assert len(before) >= 4
    assert "P01a" in after
    cards = document["safety"]["cards"]
    assert (cards["cards"], cards["before"], cards["after"]) == (
        1,
        len(before),
        len(after),
    )
    assert cards["in_time"] is True
    assert document["safety"]["exceptions"] == []
    assert all(one["text"] and one["source"] and one["by"] for one in own)


def begun_by_scopes(work: Work) -> Acting:
    """Let a round have an act of its scopes on a card."""
    acting = Acting(work)
    a_morning(acting)
    card = str(work.card("bus", IR).id)
    work.tick(minutes=1)
    keep(work, acting.line("test", card, "T2", at=work.at.isoformat()))
    return acting


def stands(work: Work) -> bool:
    """Whether nothing of the round has changed since its package was signed."""
    found = package_view(work.session, person_id=LEAD.id, round_id=work.round_id)
    assert found is not None
    return found.stands


def test_a_shift_that_ends_does_not_void_a_signature_but_what_was_before_does(
    complete: Work,
) -> None:
    acting = begun_by_scopes(complete)
    early = complete.at
    complete.tick(minutes=5)
    complete.seal(TECHNICIAN, "performed")
    assert stands(complete)
    complete.tick(minutes=5)
    keep(complete, acting.act("end_crew", crew=acting.crew))
    assert stands(complete)
    at = (early + timedelta(minutes=1)).isoformat()
    keep(complete, acting.act("stop", stop=str(uuid4()), at=at))
    assert not stands(complete)


def test_what_others_do_on_the_lineup_is_no_matter_of_an_earlier_round(
    earlier: Work,
) -> None:
    a_morning(Acting(by_the_list_before(earlier)))
    earlier.seal(TECHNICIAN, "performed")
    assert stands(earlier)
    assert "safety" not in draft(earlier)


def by_the_list_before(work: Work) -> Work:
    """Fill and sign every card by the list that cards had before safety had scopes."""
    for (label, procedure), card in work.cards.items():
        work.confirm_earlier(label, procedure)
        for point, text in zip(card.points, within(card), strict=True):
            work.tick()
            work.store(work.reading(card, point, text))
        work.confirm_earlier(label, procedure, after=True)
        work.sign((label, procedure))
    return work


def test_readings_that_the_list_before_covers_stay_as_they_were(earlier: Work) -> None:
    begun_by_scopes(by_the_list_before(earlier))
    document = draft(earlier)
    assert document["safety"]["cards"]["cards"] == 0
    assert document["safety"]["exceptions"] == []
    assert all(card["preconditions"] for card in document["cards"])
    assert [card["safety"]["before"] for card in document["cards"] if "safety" in card]


def test_the_same_record_gives_the_same_content_on_another_day(opened: Work) -> None:
    work = opened
    a_morning(Acting(work))
    first = draft(work)
    work.tick(hours=40)  # the shift is over by its length, nobody ended it
    again = draft(work)
    assert texted(first["safety"]) == texted(again["safety"])
