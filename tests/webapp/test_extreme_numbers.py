"""The smallest and the largest numbers that can be typed: every page goes on."""

from collections.abc import Callable
from typing import Any

import pytest
from sqlalchemy.orm import Session

from models.services.keeping.check_record import check_record
from tests.scenario import (
    CONDITIONS,
    CR,
    IR,
    LEAD,
    RT,
    VI,
    Work,
    lineup_id,
)
from tests.webapp.desk import Desk

DeskAt = Callable[[str], Desk]
LEAST, TINY, MOST = "5e-324", "1e-322", "9e14"

# Where, what is typed at one point after the other, and the conditions beside it.
TYPED: list[tuple[str, str, list[str], dict[str, Any]]] = [
    ("bus", IR, [LEAST, TINY, "-0", "0", MOST], {}),
    ("breaker 52", IR, [LEAST], {"humidity_pct": TINY, "air_temperature_c": 20}),
    ("breaker 52", IR, ["9.0"], {"humidity_pct": LEAST, "temperature_c": "-0"}),
    ("breaker 52", IR, ["9.0"], {"temperature_c": TINY, "test_kv": 500}),
    ("breaker 52", IR, ["9.0"], {"test_kv": LEAST}),
    ("breaker 52", CR, [LEAST, MOST, "-0"], {}),
    ("breaker 52", VI, ["held"], {"test_kv": LEAST}),
    ("relay 51", RT, [LEAST, MOST, "-0"], {}),
]


@pytest.fixture
def desk(desk_at: DeskAt) -> Desk:
    """A round whose readings are as far out as they can be typed."""
    desk = desk_at("confirmed")
    with desk.work() as work:
        for label, procedure, texts, more in TYPED:
            beside = CONDITIONS[procedure] | more
            work.read(label, procedure, *texts, conditions=beside)
    return desk


def pages(desk: Desk) -> list[str]:
    """Return the addresses that draw or say what was read."""
    with desk.work() as work:
        cards = [card.id for card in work.cards.values()]
        points = [p.id for card in work.cards.values() for p in card.points]
        round_id = work.round_id
    return [
        f"/field/rounds/{round_id}/document.json",
        f"/turnover/rounds/{round_id}/draft.pdf",
        f"/owner/lineups/{lineup_id()}",
        *(f"/turnover/cards/{card_id}" for card_id in cards),
        *(f"/owner/points/{point_id}" for point_id in points),
    ]


@pytest.mark.slow
def test_every_page_of_the_round_can_be_opened(desk: Desk) -> None:
    client = desk.person(LEAD).client
    found = {address: client.get(address).status_code for address in pages(desk)}
    assert {a: s for a, s in found.items() if s != 200} == {}


def test_the_record_holds(confirmed: Work) -> None:
    """What is stored is what is logged: a typed -0 is no other number than 0."""
    for label, procedure, texts, more in TYPED:
        beside = CONDITIONS[procedure] | more
        confirmed.read(label, procedure, *texts, conditions=beside)
    session: Session = confirmed.session
    session.flush()
    session.expire_all()
    assert check_record(session).faults == []


def test_a_number_below_nothing_by_its_sign_alone_is_stored(confirmed: Work) -> None:
    """JSON has a -0.0 of its own, which no text goes through."""
    beside = CONDITIONS[IR] | {"temperature_c": -0.0, "humidity_pct": -0.0}
    (key,) = confirmed.read("bus", IR, "-0.00", conditions=beside)
    confirmed.session.expire_all()
    (reading,) = [r for r in confirmed.facts("bus", IR).readings if r.id == key]
    assert (str(reading.low), reading.text) == ("0.0", "-0.00")
    assert "-0.0" not in str(reading.conditions)
    assert check_record(confirmed.session).faults == []
