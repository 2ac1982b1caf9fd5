"""The steps to the first card, counted for who asks."""

from collections.abc import Callable
from datetime import date

import pytest
from sqlalchemy.orm import Session

from models.services.setup.first_steps import first_steps
from tests.scenario import ADMINISTRATOR, LEAD, OFF_SITE_LEAD, RIVAL, TECHNICIAN, Cast

MARCH, JULY = date(2026, 3, 3), date(2026, 7, 1)
# stage, who, day -> site, lineup, people, instrument, round
COUNTS = {
    "before any round": ("place", LEAD, MARCH, [1, 1, 7, 5, 0]),
    "with a round": ("opened", LEAD, MARCH, [1, 1, 7, 5, 1]),
    "after most calibrations": ("opened", LEAD, JULY, [1, 1, 7, 1, 1]),
    "on no site": ("opened", OFF_SITE_LEAD, MARCH, [0, 0, 7, 5, 0]),
    "an administrator": ("opened", ADMINISTRATOR, MARCH, [2, 2, 7, 5, 1]),
    "of another firm": ("opened", RIVAL, MARCH, [1, 1, 0, 1, 0]),
}


@pytest.mark.parametrize(("stage", "who", "day", "counts"), COUNTS.values(), ids=COUNTS)
def test_counts(
    session_at: Callable[[str], Session],
    stage: str,
    who: Cast,
    day: date,
    counts: list[int],
) -> None:
    found = first_steps(session_at(stage), person_id=who.id, today=day)
    assert [step.number for step in found] == counts


def test_each_is_told_what_they_do_themselves(place: Session) -> None:
    for who, own in (
        (LEAD, ["site", "lineup", "instrument", "round"]),
        (TECHNICIAN, []),
    ):
        found = first_steps(place, person_id=who.id, today=MARCH)
        assert [step.key for step in found if step.for_this_person] == own
