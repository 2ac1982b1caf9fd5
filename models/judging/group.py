"""Readings of a group compared with the lowest of them."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.judging.bounds import compare_high
from models.judging.near import at_least
from models.judging.state import State
from models.judging.verdicts import Verdict
from models.judging.wording import figure, plain


@dataclass(frozen=True, slots=True)
class Lowest:
    """The lowest of a group: between which values it lies, and whose it is.

    *relative* is the greatest relative U of the readings that may be the lowest;
    None where it is not known for all of them.
    """

    low: float
    high: float
    members: int
    state: State
    relative: float | None


def lowest_of(states: Sequence[State]) -> Lowest | None:
    """Return the lowest of those that can be judged; None when there are none.

    An under-range reading makes the lowest uncertain from below, an over-range
    one never lowers it from above.
    """
    if not states:
        return None
    first = min(states, key=lambda s: (s.high, s.low))
    return Lowest(
        low=min(s.low for s in states),
        high=first.high,
        members=len(states),
        state=first,
        relative=_greatest(_relative(s) for s in states if s.low <= first.high),
    )


def _relative(state: State) -> float | None:
    """Return U over the value; None without an accuracy, and of nothing."""
    if state.expanded is None or state.shown == 0:
        return None
    return state.expanded / state.shown


def _greatest(values: Iterable[float | None]) -> float | None:
    greatest = 0.0
    for value in values:
        if value is None:
            return None
        greatest = max(greatest, value)
    return greatest


def compare_lowest(
    state: State, bound: Mapping[str, Any], lowest: Lowest, *, alone_is_judged: bool
) -> None:
    """At most so many times the lowest of the group."""
    if lowest.members < 2:
        if not alone_is_judged:
            state.find(
                Verdict.UNJUDGED,
                "Nothing to compare with: no other reading of the group can be "
                "judged, and no maker's limit is given.",
            )
        return
    if math.isinf(lowest.high):
        state.find(Verdict.UNJUDGED, "Every reading of the group is over range.")
        return
    times = bound["times"]
    if lowest.low < lowest.high:
        _compare_open(state, times, lowest)
        return
    state.narrow(high=times * lowest.high)
    if not state.exact:
        _compare_open(state, times, lowest)
    elif state is lowest.state:
        state.find(
            Verdict.WITHIN, f"{state.say(state.shown)} is the lowest of its group."
        )
    elif state.expanded is None or lowest.state.expanded is None or lowest.high == 0:
        _compare_simply(state, times, lowest)
    else:
        _compare_ratio(state, times, lowest)


def _compare_simply(state: State, times: float, lowest: Lowest) -> None:
    name = f"{plain(times)} × the lowest of its group {state.say(lowest.high)}, i.e."
    expanded, state.expanded = state.expanded, None
    compare_high(state, times * lowest.high, name)
    state.expanded = expanded


def _compare_ratio(state: State, times: float, lowest: Lowest) -> None:
    """Guarded: U of the ratio combines both relative uncertainties.

    Root of the sum of squares, for a quotient of independent quantities:
    JCGM 100:2008 (GUM) 5.1.6.
    """
    assert state.expanded is not None
    assert lowest.state.expanded is not None
    ratio = state.shown / lowest.high
    relative = math.hypot(
        state.expanded / state.shown, lowest.state.expanded / lowest.high
    )
    expanded = ratio * relative
    if at_least(times, ratio + expanded):
        verdict, how = Verdict.WITHIN, "at most {}."
    elif not at_least(times, ratio - expanded):
        verdict, how = Verdict.OUTSIDE, "more than {}."
    else:
        verdict, how = Verdict.MARGINAL, "too close to {} to tell."
    if state.quiet:
        state.find(verdict, "")
        return
    limit = how.format(f"{plain(times)} times the lowest of its group")
    state.find(
        verdict,
        f"{state.say(state.shown)} / the lowest {state.say(lowest.high)} = "
        f"{figure(ratio)}, U {figure(expanded, 2)}: {limit}",
    )


def _compare_open(state: State, times: float, lowest: Lowest) -> None:
    """Compare where the reading or the lowest is only a bound.

    What holds where the two may be nearest, with U at the bounds that are known,
    holds wherever they are.
    """
    guard = _guard(state, lowest)
    spread = guard or 0.0
    if at_least(times * lowest.low, state.high * (1 + spread)):
        said = _say_open(state, times, lowest, guard, met=True)
        state.find(Verdict.WITHIN, said)
    elif not at_least(times * lowest.high, state.low * (1 - spread)):
        said = _say_open(state, times, lowest, guard, met=False)
        state.find(Verdict.OUTSIDE, said)
    else:
        state.find(
            Verdict.UNJUDGED,
            "A reading of the group is only a bound: how they compare is not known.",
        )


def _guard(state: State, lowest: Lowest) -> float | None:
    """Return U of the ratio over the ratio; None: compared simply."""
    own = _relative(state)
    if own is None or lowest.relative is None:
        return None
    return math.hypot(own, lowest.relative)


def _say_open(
    state: State, times: float, lowest: Lowest, guard: float | None, *, met: bool
) -> str:
    """Say what was compared: the bounds, and on which side of them the rest lies."""
    if state.quiet:
        return ""
    said = state.bounded(state.say(state.shown))
    compared = lowest.low if met else lowest.high
    known = state.say(compared)
    if lowest.low < lowest.high:
        known = f"({'at least' if met else 'at most'} {known})"
    if guard is None:
        return (
            f"{said} is {'at most' if met else 'above'} {plain(times)} × the lowest "
            f"of its group {known}, i.e. {state.say(times * compared)}."
        )
    ratio = state.shown / compared
    return (
        f"{said} / the lowest {known} = {'at most' if met else 'at least'} "
        f"{figure(ratio)}, U {figure(ratio * guard, 2)}: "
        f"{'at most' if met else 'more than'} {plain(times)} times the lowest of its "
        "group."
    )
