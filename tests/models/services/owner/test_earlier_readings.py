"""Residual pressures read within another test go on in the trend of their own."""

from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from sqlalchemy.orm import Session

from models.services.owner.earlier_readings import with_earlier
from models.services.owner.trends import trend
from tests.optional_round import begin_with_optional_cards
from tests.scenario import OWNER, VI, Work

MAGNETRON = {"method": "magnetron"}
PRESSURES = ("3.0e-4", "4.0e-4", "5.0e-4")


def test_a_trend_begins_with_what_was_read_before(place: Session) -> None:
    before = Work.begin(place)
    for label, procedure in before.cards:
        if procedure != VI:
            before.withdraw(label, procedure)
    before.fill("breaker 52", VI, *PRESSURES, unit="Pa", conditions=MAGNETRON)
    before.turn_over(accept=False)
    later = before.tick() + timedelta(days=300)
    work = begin_with_optional_cards(place, later)
    card = work.card("breaker 52", "vacuum_pressure")
    found = trend(place, person_id=OWNER.id, point_id=card.points[0].id)
    assert [one.value for one in found.points] == [pytest.approx(3.0e-4)]
    assert found.points[0].round_title != card.round.title
    assert [mate[2][0].value for mate in found.mates] == pytest.approx([4e-4, 5e-4])
    assert found.pressure is not None
    # where it was read it still stands
    old = before.card("breaker 52", VI).points[0]
    own = trend(place, person_id=OWNER.id, point_id=old.id)
    assert [one.text for one in own.points] == [PRESSURES[0]]


BREAKER, OTHER = uuid4(), uuid4()
DETAIL = "magnetron method, each interrupter"
HERE = (BREAKER, "vacuum_pressure", DETAIL, "pole A")
AT_THE_GAP = (BREAKER, VI, "open, across each interrupter", "pole A")
PA = {"value": 3e-4, "value_unit": "Pa"}
HELD = {"value": None, "value_unit": None}
CARRIED: dict[str, tuple[dict[Any, dict[str, Any]], dict[str, Any] | None]] = {
    "a pressure of before": ({AT_THE_GAP: PA}, PA),
    "a voltage that was held": ({AT_THE_GAP: HELD}, None),
    "of another pole": ({(*AT_THE_GAP[:3], "pole B"): PA}, None),
    "of another breaker": ({(OTHER, *AT_THE_GAP[1:]): PA}, None),
    "read as of today as well": ({AT_THE_GAP: PA, HERE: HELD}, HELD),
}


@pytest.mark.parametrize(("values", "found"), CARRIED.values(), ids=CARRIED)
def test_what_goes_on(
    values: dict[Any, dict[str, Any]], found: dict[str, Any] | None
) -> None:
    carried = with_earlier(values, [HERE])
    assert carried.get(HERE) == found
    assert {at: carried[at] for at in values} == values
