"""When the insulation of a card was found good, and when it no longer was."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple
from uuid import UUID


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A reading of a card; *let_stand*: when somebody let it stand, None: nobody."""

    id: UUID
    point_id: UUID
    at: datetime
    supersedes: UUID | None
    within: bool
    let_stand: datetime | None


class Turn(NamedTuple):
    """From this moment on the insulation is good, or is not."""

    at: datetime
    good: bool


def turns(points: Collection[UUID], tried: Sequence[Tried]) -> list[Turn]:
    """Return each moment at which the card became good or stopped being so.

    It is good while every one of *points* has a reading that holds and is within, or
    that somebody let stand. Verdicts are those that hold now.
    """
    moments = {one.at for one in tried} | {
        one.let_stand for one in tried if one.let_stand is not None
    }
    found: list[Turn] = []
    good = False
    for moment in sorted(moments):
        now = _good_at(points, tried, moment)
        if now != good:
            found.append(Turn(at=moment, good=now))
        good = now
    return found


def _good_at(
    points: Collection[UUID], tried: Sequence[Tried], moment: datetime
) -> bool:
    there = [one for one in tried if one.at <= moment]
    superseded = {one.supersedes for one in there}
    holding = [one for one in there if one.id not in superseded]
    if {one.point_id for one in holding} != set(points):
        return False
    return all(
        one.within or (one.let_stand is not None and one.let_stand <= moment)
        for one in holding
    )
