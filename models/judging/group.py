"""Readings of a group compared with the lowest of them."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from models.judging.measured import Measured
from models.judging.near import at_least
from models.judging.rules import Part
from models.judging.state import State
from models.judging.verdicts import Verdict, verdict_of


@dataclass(frozen=True, slots=True)
class Lowest:
    """The lowest of a group: between which values it lies, and whose it is.

    *relative* is the greatest relative U of the readings that may be the lowest;
    None where it is not known for all of them.
    """

    low: float
    high: float
    members: Sequence[Measured]
    own: Measured
    relative: float | None

    @property
    def exact(self) -> bool:
        """Whether the lowest is one number."""
        return self.low == self.high


def lowest_of(states: Sequence[State]) -> Lowest | None:
    """Return the lowest of those that can be judged; None when there are none.

    An under-range reading makes the lowest uncertain from below, an over-range
    one never lowers it from above.
    """
    members = [state.measured for state in states if state.measured is not None]
    if not members:
        return None
    own = min(members, key=lambda one: (one.high, one.low))
    return Lowest(
        low=min(one.low for one in members),
        high=own.high,
        members=members,
        own=own,
        relative=_greatest(one.relative for one in members if one.low <= own.high),
    )


def _greatest(values: Iterable[float | None]) -> float | None:
    greatest = 0.0
    for value in values:
        if value is None:
            return None
        greatest = max(greatest, value)
    return greatest


def find_near_lowest(
    state: State, part: Part, measured: Measured, lowest: Lowest, *, alone: bool
) -> None:
    """At most so many times the lowest of the group.

    *alone*: whether another bound judges a reading without company. What holds where
    the two may be nearest holds wherever they are. U of the ratio is the root of the
    sum of squares of both relative U, for a quotient of independent quantities:
    JCGM 100:2008 (GUM) 5.1.6.
    """
    if not _has_company(state, part, lowest, alone=alone):
        return
    times = part["times"]
    exact = lowest.exact and measured.exact
    limit = times * lowest.high if lowest.exact else None
    if exact and measured is lowest.own:
        state.find(Verdict.WITHIN, "is_lowest", part, high=limit)
        return
    guard = _guard(measured, lowest.own.relative if exact else lowest.relative)
    spread = guard or 0.0
    sure = at_least(times * lowest.low, measured.high * (1 + spread))
    perhaps = sure or at_least(times * lowest.high, measured.low * (1 - spread))
    state.find(
        verdict_of(sure=sure, perhaps=perhaps, exact=exact),
        "near_lowest",
        part,
        high=limit,
        numbers={"lowest_low": lowest.low, "lowest_high": lowest.high, "guard": guard},
    )


def _has_company(state: State, part: Part, lowest: Lowest, *, alone: bool) -> bool:
    """Return whether there is something to compare with; say so where there is not."""
    if len(lowest.members) < 2:
        state.find(None if alone else Verdict.UNJUDGED, "alone", part)
    elif math.isinf(lowest.high):
        state.unknown("all_over_range", part)
    else:
        return True
    return False


def _guard(measured: Measured, relative: float | None) -> float | None:
    """Return U of the ratio over the ratio; None: compared simply."""
    own = measured.relative
    return None if own is None or relative is None else math.hypot(own, relative)
