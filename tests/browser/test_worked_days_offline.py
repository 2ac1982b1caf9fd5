"""The worked days of the reference without signal: the same counts, then on record.

practice/safety-scope.md, section 3. A reload comes in the middle of each day. In the
gas-insulated day the lineup does not say that the three-position switches are driven by
hand, nor where no current transformer stands: a line about springs and one about
transformers are asked besides, and the crew says that they do not apply. That is no
confirmation, so the counts are the reference's.
"""

import re
from collections import Counter
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

import pytest
from playwright.sync_api import Browser, expect
from sqlalchemy import select

from models.criteria.safety import Work
from models.schema import Reading, Round, SafetyAct
from models.services.field.card_facts import gather, round_cards
from models.services.keeping.check_record import check_record
from models.services.turnover.safety_content import safety_content
from tests.browser.conftest import Served
from tests.browser.crew import TABLET_UPRIGHT, hold_program, open_page, sign_in
from tests.browser.worked_day import (
    TabletDay,
    cards_of_day,
    open_day,
    shift_began,
)
from tests.laws import THOROUGH
from tests.models.criteria.safety.working_days import (
    gas_insulated_day,
    metal_clad_day,
)
from tests.models.record.safety.test_worked_days import (
    GAS_INSULATED,
    GAS_INSULATED_VISITS,
    METAL_CLAD,
    METAL_CLAD_VISITS,
)
from tests.scenario import TECHNICIAN

pytestmark = pytest.mark.browser

HOURS = 12  # before now the day began: it is over by now
LONGEST_MS = 60_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """A day of the reference, and what it counts."""

    work: Work
    registers: dict[str, list[Any]]
    visits: str
    cards: int
    lines: dict[str, int]


METAL_CLAD_DAY = Expected(
    work=metal_clad_day(),
    registers=METAL_CLAD,
    visits=METAL_CLAD_VISITS,
    cards=23,
    lines={
        "crew": 17,
        "isolation": 38,
        "point": 69 + 10,
        "test": 123,
        "after": 69,
        "return": 27,
    },
)
GAS_INSULATED_DAY = Expected(
    work=gas_insulated_day(),
    registers=GAS_INSULATED,
    visits=GAS_INSULATED_VISITS,
    cards=10,
    lines={
        "crew": 19,
        "isolation": 25,
        "point": 32 + 10,
        "test": 69,
        "after": 29,
        "return": 17,
    },
)
DAYS = {"metal-clad": METAL_CLAD_DAY}
if THOROUGH:
    DAYS["gas-insulated"] = GAS_INSULATED_DAY


@pytest.mark.parametrize("expected", DAYS.values(), ids=DAYS)
def test_a_worked_day_without_signal_asks_what_the_reference_counts(
    browser: Browser, served_singly: Served, expected: Expected
) -> None:
    served, work = served_singly, expected.work
    began = shift_began(datetime.now(UTC), HOURS)
    with served.session() as session:
        round_id = open_day(session, work, began)
        cards = cards_of_day(session, work, round_id)
        session.commit()
    assert len(cards) == expected.cards
    context, page = open_page(browser, served, TABLET_UPRIGHT)
    context.set_default_timeout(LONGEST_MS)  # some 200 modules, each by itself
    sign_in(page, TECHNICIAN)
    page.goto(f"/field/rounds/{round_id}/")
    hold_program(page)
    page.goto(f"/field/rounds/{round_id}/#/tablet")
    page.get_by_role("button", name=re.compile("^Take along")).click()
    taken = page.get_by_text("is on this tablet as it is now")
    expect(taken).to_be_visible(timeout=LONGEST_MS)
    context.set_offline(True)

    day = TabletDay(work, expected.registers, cards, began)
    visits = expected.visits.split()
    middle = len(visits) // 2
    day.open(page)
    day.begin()
    day.visit(" ".join(visits[:middle]))
    assert day.leave() == day.entries
    page.reload()
    signal = page.locator("#signal")
    kept = f"{day.entries} entries kept"
    expect(signal).to_contain_text(kept, timeout=LONGEST_MS)
    day.open(page)
    day.visit(" ".join(visits[middle:]))
    day.give_back()
    assert day.leave() == day.entries
    assert day.now < datetime.now(UTC)
    assert len(day.readings) == expected.cards
    assert day.count == expected.lines

    context.set_offline(False)
    expect(signal).to_have_text("Everything is recorded", timeout=LONGEST_MS)
    context.close()
    check_server(served, round_id, day, expected)


def check_server(
    served: Served, round_id: Any, day: TabletDay, expected: Expected
) -> None:
    """The server has each act once, and counts as the tablet did; nothing outside."""
    with served.session() as session:
        acts = session.scalars(select(SafetyAct)).all()
        given = [one for one in acts if one.body.get("state") == "confirmed"]
        assert Counter(one.scope for one in given) == expected.lines
        readings = session.scalars(select(Reading)).all()
        assert len(readings) == day.taken
        assert len(acts) + len(readings) == day.entries
        facts = gather(session, round_cards(session, round_id))
        content = safety_content(
            session, session.get_one(Round, round_id), list(facts.values())
        )
        assert content is not None
        told = content.report["cards"]
        assert (told["cards"], told["before"], told["after"]) == (
            expected.cards,
            expected.lines["test"],
            expected.lines["after"],
        )
        assert told["in_time"] is True
        assert check_record(session).faults == []
