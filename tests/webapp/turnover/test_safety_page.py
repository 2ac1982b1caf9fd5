"""The safety of a round on one page, and that of a card on its own."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from uuid import uuid4

import pytest

from models.schema import Round
from models.services.safety.press_stop import press_stop, release_stop
from tests.scenario import (
    CR,
    IR,
    LEAD,
    OWNER,
    SECOND,
    SITE,
    TECHNICIAN,
    fixed_id,
)
from tests.shift import GROUND, Shift
from tests.webapp.desk import Desk, Page


@pytest.fixture
def desk(desk_at: Callable[[str], Desk]) -> Desk:
    """The application, with a round that goes by its scopes."""
    found = desk_at("opened")
    with at_work(found) as shift:
        session = shift.work.session
        session.get_one(Round, shift.work.round_id).earlier_list = False
    return found


@contextmanager
def at_work(desk: Desk) -> Iterator[Shift]:
    with desk.work() as work:
        yield Shift(work)


def shown(desk: Desk) -> Page:
    """Return the page as the lead sees it."""
    with desk.work() as work:
        round_id = work.round_id
    return desk.person(LEAD).get(f"/turnover/rounds/{round_id}/safety")


def test_before_anybody_has_come(desk: Desk) -> None:
    page = shown(desk)
    assert page.status == 200
    for said in (
        "No crew is on this lineup now.",
        "No clearance is held on this lineup now.",
        "not entered",
        "Nothing has lapsed, and nobody has stopped the work.",
    ):
        assert said in page.text


def test_what_stands_and_what_lapsed_and_why(desk: Desk) -> None:
    with at_work(desk) as shift:
        work = shift.work
        shift.open()
        shift.before("breaker 52", CR)
        work.read("breaker 52", CR, "38.6", "39.4", "40.2")
        shift.store(
            shift.act(
                "list",
                register="put_back",
                of=shift.isolation,
                item="b1",
                fields={"put_back_kind": "ct_link", "what": "CT links X1"},
            ),
            shift.act(
                "override",
                scope="test",
                of=str(work.card("bus", IR).id),
                code="T7",
                reason="the maker gives no limit",
                names=[LEAD.name, SECOND.name],
            ),
        )
        stop = press_stop(
            work.session,
            person_id=SECOND.id,
            site_id=fixed_id(SITE),
            stop_id=uuid4(),
            device="desk",
            now=work.tick(),
        )
        release_stop(
            work.session,
            person_id=LEAD.id,
            stop_id=stop,
            act_id=uuid4(),
            reason="no cause found",
            put_right="barrier moved back",
            agrees=False,
            device="desk",
            now=work.tick(),
        )
        work.tick()
        lock = {"what": "lock", "of": shift.isolation, "item": "s1"}
        shift.store(shift.act("change", **lock, cause="lock 7 off for the fitters"))
        card = work.card("breaker 52", CR).id
    page = shown(desk)
    for said in (
        "Clearance 4711, MV-1",
        f"held by {TECHNICIAN.name}",
        f"Signed on: {TECHNICIAN.name}",
        "incomer",  # a source
        "portable",  # a ground
        "CT links X1",
        "not yet",
        "1 not put back",
        "a lock or tag came off",
        "lock 7 off for the fitters",
        "work was stopped",
        "no cause found",
        f"set aside, agreed by {LEAD.name}, {SECOND.name}: T7",
        "the maker gives no limit",
        "breaker 52 · contact resistance: 2 lines after the test still open",
        "Source: UFC 3-560-01",  # a line can be opened
        "A tick is a person's statement, not proof.",
    ):
        assert said in page.text, said
    assert GROUND not in page.text.split(), "items are said by their names"
    assert f"/turnover/cards/{card}" in page.links
    on_card = desk.person(LEAD).get(f"/turnover/cards/{card}")
    assert "Safety: 4 lines before the readings, 0 after, 2 still open" in on_card.text
    assert "Preconditions:" not in on_card.text
    assert f"confirmed {TECHNICIAN.name}, 3 Mar 2026" in on_card.text


def test_a_round_by_the_earlier_list_keeps_its_confirmations(
    desk_at: Callable[[str], Desk],
) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        session = work.session
        session.get_one(Round, work.round_id).earlier_list = True
        work.fill("breaker 52", CR)
        card = work.card("breaker 52", CR).id
    assert "This round began before safety had scopes." in shown(desk).text
    page = desk.person(LEAD).get(f"/turnover/cards/{card}")
    assert "Preconditions:" in page.text
    assert "Safety:" not in page.text


def test_an_owner_sees_it_once_the_round_is_turned_over(desk: Desk) -> None:
    with desk.work() as work:
        path = f"/turnover/rounds/{work.round_id}/safety"
    assert desk.person(OWNER).get(path).status == 404
    assert desk.person(TECHNICIAN).get(path).status == 200
