"""Readings of a group compared with the lowest of them."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from models.judging.measured import Measured
from models.judging.near import at_least, near
from models.judging.parts import Part
from models.judging.state import State
from models.judging.verdicts import Verdict, verdict_of


@dataclass(frozen=True, slots=True)
class Lowest:
    """The lowest of a group: between which values it lies, and whose it is.

    *relative* and *absolute* are the greatest U, over the value and as it is, of the
    readings that may be the lowest; None where it is not known for all of them.
    """

    low: float
    high: float
    members: Sequence[Measured]
    own: Measured
    relative: float | None
    absolute: float | None

    @property
    def exact(self) -> bool:
        """Whether the lowest is one number."""
        return self.low == self.high


def lowest_of(states: Sequence[State]) -> Lowest | None:
    """Return the lowest of those that can be judged; None when there are none.

    An under-range reading makes the lowest uncertain from below, an over-range
    one never lowers it from above. Ends that are near are one number: 0.0558 s and
    >55.8 ms begin at the same, whatever the last digit of a conversion says.
    """
    members = [state.measured for state in states if state.measured is not None]
    if not members:
        return None
    own = min(members, key=lambda one: (one.high, one.low))
    perhaps = [one for one in members if at_least(own.high, one.low)]
    low = min(one.low for one in members)
    return Lowest(
        low=own.high if near(low, own.high) else low,
        high=own.high,
        members=members,
        own=own,
        relative=_greatest(one.relative for one in perhaps),
        absolute=_greatest(one.expanded for one in perhaps),
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
    times = part["times"]
    limit = times * lowest.high if lowest.exact else None
    if not _has_company(state, part, lowest, alone=alone):
        return
    exact = lowest.exact and measured.exact
    if exact and measured is lowest.own:
        state.find(Verdict.WITHIN, "is_lowest", part, high=limit)
        return
    relative = lowest.own.relative if exact else lowest.relative
    guard = _root(measured.relative, relative)
    sure = at_least(times * lowest.low, measured.high * (1 + (guard or 0.0)))
    perhaps = sure or not _is_above(measured, times, lowest, guard)
    verdict = verdict_of(sure=sure, perhaps=perhaps, exact=exact)
    numbers = {**_ends(lowest), "guard": guard}
    state.find(verdict, "near_lowest", part, high=limit, numbers=numbers)
    if verdict is Verdict.OUTSIDE and "odd_share" in part:
        _find_odd(state, part, lowest, relative)


def _find_odd(state: State, part: Part, lowest: Lowest, relative: float | None) -> None:
    """Where most of the group is above, the lowest may be the odd one."""
    members, times = lowest.members, part["times"]
    above = sum(
        _is_above(one, times, lowest, _root(one.relative, relative)) for one in members
    )
    if above > part["odd_share"] * len(members):
        numbers = {"above": above, "members": len(members)}
        state.find(Verdict.OUTSIDE, "odd_lowest", part, numbers=numbers)


def _is_above(
    measured: Measured, times: float, lowest: Lowest, guard: float | None
) -> bool:
    """Return whether a reading is above so many times the lowest, beyond the guard."""
    return not at_least(times * lowest.high, measured.low * (1 - (guard or 0.0)))


def find_over_lowest(
    state: State, part: Part, measured: Measured, lowest: Lowest, *, alone: bool
) -> None:
    """At most so much over the lowest of the group.

    U of the difference is the root of the sum of squares of both U, for independent
    quantities (JCGM 100:2008 (GUM) 5.1.2); of one instrument it is too wide.
    """
    by = part["by"]
    limit = lowest.high + by if lowest.exact else None
    if not _has_company(state, part, lowest, alone=alone):
        return
    exact = lowest.exact and measured.exact
    if exact and measured is lowest.own:
        state.find(Verdict.WITHIN, "is_lowest", part, high=limit)
        return
    other = lowest.own.expanded if exact else lowest.absolute
    guard = _root(measured.expanded, other)
    sure = at_least(by, measured.high - lowest.low + (guard or 0.0))
    perhaps = sure or at_least(by, measured.low - lowest.high - (guard or 0.0))
    verdict = verdict_of(sure=sure, perhaps=perhaps, exact=exact)
    numbers = {**_ends(lowest), "guard": guard}
    state.find(verdict, "over_lowest", part, high=limit, numbers=numbers)


def _ends(lowest: Lowest) -> dict[str, float]:
    return {"lowest_low": lowest.low, "lowest_high": lowest.high}


def _has_company(state: State, part: Part, lowest: Lowest, *, alone: bool) -> bool:
    """Return whether there is something to compare with; say so where there is not."""
    if len(lowest.members) < 2:
        state.find(None if alone else Verdict.UNJUDGED, "alone", part)
    elif math.isinf(lowest.high):
        state.unknown("all_over_range", part)
    else:
        return True
    return False


def _root(one: float | None, other: float | None) -> float | None:
    """Return the root of the sum of squares; None: U is not known for both."""
    return None if one is None or other is None else math.hypot(one, other)
