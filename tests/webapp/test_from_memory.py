"""What rests on memory carries one mark wherever its verdict is shown."""

from collections.abc import Iterator
from typing import Any

import pytest
from sqlalchemy.orm import Session

from models.judging.rules import rests_on_memory
from tests.conftest import Stages
from tests.scenario import CR, IR, LEAD, OWNER, Work, lineup_id
from tests.table_checking import check_rows
from tests.webapp.desk import Desk

FACTORS = "insulation_correction_20"
MARK, WORDS = "mark-memory", "from memory"


@pytest.fixture(params=["nobody checked", "the firm checked"])
def checked(request: pytest.FixtureRequest) -> bool:
    return bool(request.param == "the firm checked")


@pytest.fixture
def desk(sqlite_stages: Stages, *, checked: bool) -> Iterator[Desk]:
    """A round whose insulation readings rest on the column of factors."""
    desk = Desk(sqlite_stages.fresh("place"))
    with Session(desk.app.extensions["engine"], expire_on_commit=False) as session:
        if checked:
            check_rows(session, LEAD, FACTORS)
        work = Work.begin(session)
        work.confirm("bus", IR)
        work.read("bus", IR, "4.9")  # marginal: the gate lists it
        session.commit()
    yield desk
    desk.close()


def judgement_of(desk: Desk) -> tuple[Any, Any, Any, bool]:
    with desk.work() as work:
        facts = work.facts("bus", IR)
        reading = facts.current[0]
        recalled = facts.say.recalled(reading.judgement)
        return facts.card.round_id, facts.card.id, reading, recalled


def test_on_the_pages_of_the_turnover(desk: Desk, *, checked: bool) -> None:
    round_id, card_id, reading, recalled = judgement_of(desk)
    lead = desk.person(LEAD)
    assert recalled is not checked
    for path in (
        f"/turnover/cards/{card_id}",
        f"/turnover/readings/{reading.id}/dispose",
        f"/turnover/rounds/{round_id}",
    ):
        page = lead.get(path)
        assert page.status == 200, path
        assert (MARK in page.html) is not checked, path
        assert checked or WORDS in page.text, path
    card = lead.get(f"/turnover/cards/{card_id}").text
    assert ("compared with edition 2023" in card) is checked


def test_nothing_is_marked_where_nothing_is_from_memory(desk: Desk) -> None:
    with desk.work() as work:
        work.confirm("breaker 52", CR)
        work.read("breaker 52", CR, "40")
        card_id = work.card("breaker 52", CR).id
    page = desk.person(LEAD).get(f"/turnover/cards/{card_id}")
    assert page.status == 200
    assert MARK not in page.html


def test_in_the_gear_book_and_its_trends(sqlite_stages: Stages) -> None:
    desk = Desk(sqlite_stages.fresh("accepted"))
    owner = desk.person(OWNER)
    book = owner.get(f"/owner/lineups/{lineup_id()}")
    with desk.work() as work:
        recalled = [
            rests_on_memory(facts.say(reading.judgement)["cite"])
            for card in work.cards.values()
            for facts in [work.facts(card.apparatus.label, card.procedure)]
            for reading in facts.current
        ]
        point = work.card("bus", IR).points[0].id
    # one a reading, and one in the key above the table
    assert book.html.count(MARK) == sum(recalled) + 1 > 2
    assert MARK in owner.get(f"/owner/points/{point}").html
    desk.close()


def test_in_the_calculator_and_in_what_is_required(sqlite_stages: Stages) -> None:
    desk = Desk(sqlite_stages.fresh("place"))
    lead = desk.person(LEAD)
    asked = "/library/required?gear=metal_clad&rated_kv=15&apparatus=breaker"
    typed = (
        "/library/calculator?procedure=insulation_resistance&value=9&unit=GOhm"
        "&temperature_c=20&test_kv=2.5&rated_kv=15"
    )
    assert MARK in lead.get(asked).html
    assert MARK in lead.get(typed).html
    with Session(desk.app.extensions["engine"]) as session:
        for key in (FACTORS, "vacuum_pressure", "metals"):
            check_rows(session, LEAD, key)
        session.commit()
    assert MARK not in lead.get(asked).html
    assert MARK not in lead.get(typed).html
    desk.close()
