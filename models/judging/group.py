"""Readings of a group compared with the lowest of them."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.judging.bounds import compare_high
from models.judging.near import at_least
from models.judging.state import State
from models.judging.verdicts import Verdict
from models.judging.wording import figure, plain


@dataclass(frozen=True, slots=True)
class Lowest:
    """The lowest of a group: between which values it lies, and whose it is."""

    low: float
    high: float
    members: int
    state: State


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
    )


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
    name = f"{plain(times)} × the lowest of its group {state.say(lowest.high)}, i.e."
    if lowest.low < lowest.high or not state.exact:
        _compare_open(state, lowest, times, name)
        return
    state.narrow(high=times * lowest.high)
    if state is lowest.state:
        state.find(
            Verdict.WITHIN, f"{state.say(state.shown)} is the lowest of its group."
        )
    elif state.expanded is None or lowest.state.expanded is None or lowest.high == 0:
        _compare_simply(state, times, lowest, name)
    else:
        _compare_ratio(state, times, lowest)


def _compare_simply(state: State, times: float, lowest: Lowest, name: str) -> None:
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
    said = (
        f"{state.say(state.shown)} / the lowest {state.say(lowest.high)} = "
        f"{figure(ratio)}, U {figure(expanded, 2)}"
    )
    limit = f"{plain(times)} times the lowest of its group"
    if at_least(times, ratio + expanded):
        state.find(Verdict.WITHIN, f"{said}: at most {limit}.")
    elif not at_least(times, ratio - expanded):
        state.find(Verdict.OUTSIDE, f"{said}: more than {limit}.")
    else:
        state.find(Verdict.MARGINAL, f"{said}: too close to {limit} to tell.")


def _compare_open(state: State, lowest: Lowest, times: float, name: str) -> None:
    """Compare where the reading or the lowest is only a bound."""
    if at_least(times * lowest.low, state.high):
        state.find(Verdict.WITHIN, f"At most {name} {state.say(times * lowest.low)}.")
    elif not at_least(times * lowest.high, state.low):
        limit = state.say(times * lowest.high)
        state.find(Verdict.OUTSIDE, f"Above {name} {limit}.")
    else:
        state.find(
            Verdict.UNJUDGED,
            "A reading of the group is only a bound: how they compare is not known.",
        )
