"""Gates on a row of readings: enough points, rising, close where it counts."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from models.judging.near import at_least
from models.judging.parts import Part
from models.judging.rows import points_of, row_of
from models.judging.state import State

Points = Sequence[tuple[float, float]]
# Why a row does not do -> the numbers of its sentence.
Fault = tuple[str, dict[str, Any]]


def row_fault(gate: Part, state: State) -> Fault | None:
    """Return the first thing that is wrong with the row; None: it does.

    Above a value that is not known nothing is counted: that it is not is said already.
    """
    steps = row_of(state.conditions, gate["series"])
    if not steps and "above" in gate and state.derived[gate["above"]["of"]] is None:
        return None
    if not steps:
        return ("none" if steps is None else "unreadable"), {}
    points = points_of(gate["series"], steps)
    least = gate.get("least", 0)
    if len(points) < least:
        return "few", {"points": len(points), "least": least}
    return _falling(gate, points) or _sparse_above(gate, state, points)


def _falling(gate: Part, points: Points) -> Fault | None:
    if gate.get("rising"):
        for (at, value), (next_at, following) in pairwise(points):
            if following <= value:
                numbers = {"at": at, "value": value}
                return "not_rising", {**numbers, "next": next_at, "then": following}
    return None


def _sparse_above(gate: Part, state: State, points: Points) -> Fault | None:
    above = gate.get("above")
    value = state.derived.get(above["of"]) if above else None
    if above is None or value is None:
        return None
    beyond = sum(at > value.shown for at, _ in points)
    if beyond < above["least"]:
        return "above", {"points": beyond, "least": above["least"]}
    return _gap(gate, points, value.shown)


def _gap(gate: Part, points: Points, value: float) -> Fault | None:
    """Return the widest step of the one that holds the value and its neighbours."""
    steps = [at for at, _ in points]
    if "gap_pct" not in gate or len(steps) < 2:
        return None
    holds = min(max(sum(at <= value for at in steps) - 1, 0), len(steps) - 2)
    near_it = list(pairwise(steps))[max(0, holds - 1) : holds + 2]
    widest = max(near_it, key=lambda ends: ends[1] / ends[0])
    gap = 100 * (widest[1] / widest[0] - 1)
    if at_least(gate["gap_pct"], gap):
        return None
    return "gap", {"from": widest[0], "to": widest[1], "gap": gap}
