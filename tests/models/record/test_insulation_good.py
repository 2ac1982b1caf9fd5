"""When the insulation of a card was found good, and when it no longer was."""

from datetime import UTC, datetime, timedelta
from uuid import UUID

import pytest

from models.record.insulation_good import Tried, turns

BEGAN = datetime(2026, 3, 2, 8, tzinfo=UTC)
A, B = UUID(int=1), UUID(int=2)


def at(minute: int) -> datetime:
    return BEGAN + timedelta(minutes=minute)


def tried(
    number: int,
    point: UUID,
    minute: int,
    *,
    within: bool = True,
    instead_of: int | None = None,
    let_stand: int | None = None,
) -> Tried:
    return Tried(
        id=UUID(int=100 + number),
        point_id=point,
        at=at(minute),
        supersedes=None if instead_of is None else UUID(int=100 + instead_of),
        within=within,
        let_stand=None if let_stand is None else at(let_stand),
    )


# Readings of a card with the points A and B -> the minutes at which it turned.
CASES: dict[str, tuple[list[Tried], list[tuple[int, bool]]]] = {
    "nothing was read": ([], []),
    "one point is missing": ([tried(1, A, 0)], []),
    "with the last point": ([tried(1, A, 0), tried(2, B, 5)], [(5, True)]),
    "one of them outside": ([tried(1, A, 0), tried(2, B, 5, within=False)], []),
    "let stand afterwards": (
        [tried(1, A, 0), tried(2, B, 5, within=False, let_stand=9)],
        [(9, True)],
    ),
    "measured again, and outside": (
        [tried(1, A, 0), tried(2, B, 5), tried(3, B, 7, within=False, instead_of=2)],
        [(5, True), (7, False)],
    ),
    "measured again, and within": (
        [tried(1, A, 0, within=False), tried(2, B, 5), tried(3, A, 7, instead_of=1)],
        [(7, True)],
    ),
}


@pytest.mark.parametrize(("rows", "expected"), CASES.values(), ids=CASES)
def test_it_turns(rows: list[Tried], expected: list[tuple[int, bool]]) -> None:
    found = turns({A, B}, rows)
    assert [(turn.at, turn.good) for turn in found] == [
        (at(minute), good) for minute, good in expected
    ]
