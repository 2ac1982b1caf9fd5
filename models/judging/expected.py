"""Bounds about what is expected: a value, the baseline, an outcome."""

import math
from collections.abc import Mapping, Sequence

from models.judging.bounds import find_at_least, find_at_most
from models.judging.derive import value_named
from models.judging.measured import Measured
from models.judging.parts import Expectation, Part
from models.judging.state import State
from models.judging.values import Outcome
from models.judging.verdicts import verdict_of


def find_near(state: State, part: Part, measured: Measured) -> None:
    """No further from what is expected than a share of it, or a fixed part.

    The greater of the two counts.
    """
    expected = expected_value(state, part["expected"])
    if expected is None:
        state.unknown("no_expected", part)
        return
    share = part.get("pct", 0.0) / 100 * abs(expected)
    within = max(share, part.get("fixed", 0.0))
    numbers = {"expected": expected, "within": within}
    state.find(None, "expected_value", part, numbers=numbers)
    if part.get("below", True):
        find_at_least(state, part, "least", measured, expected - within)
    if part.get("above", True):
        find_at_most(state, part, "most", measured, expected + within)


def expected_value(state: State, expected: float | Expectation) -> float | None:
    """Return a number, or of a condition or derived value a multiple or a line.

    None where the condition is not known, or lies beyond the points.
    """
    if not isinstance(expected, Mapping):
        return expected
    at = value_named(state, expected["on"])
    if at is None:
        return None
    points = expected.get("points")
    if points is not None:
        return line_at(points, at.shown)
    value: float = at.shown * expected.get("times", 1.0) + expected.get("plus", 0.0)
    return value if math.isfinite(value) else None


def line_at(points: Sequence[Sequence[float]], at: float) -> float | None:
    """Return the value on straight lines between points; None beyond their ends."""
    before: Sequence[float] | None = None
    for x, y in points:
        if x == at:
            return y
        if x > at:
            if before is None:
                return None
            x0, y0 = before
            return y0 + (y - y0) * (at - x0) / (x - x0)
        before = (x, y)
    return None


def find_of_baseline(state: State, part: Part, measured: Measured) -> None:
    """Between so many times the baseline: U of the ratio holds both.

    Root of the sum of squares of both relative U: JCGM 100:2008 (GUM) 5.1.6. Without
    an accuracy of the reading: simple acceptance.
    """
    baseline = part["value"]
    ratio, guard = measured.shown / baseline, 0.0
    if measured.expanded is not None:
        guard = math.hypot(measured.expanded, ratio * (part.get("u") or 0.0))
    both = Measured(
        measured.low,
        measured.high,
        measured.shown,
        expanded=guard,
        unit=measured.unit,
        signed=measured.signed,
    )
    numbers = {"ratio": ratio, "guard": guard / baseline}
    low, high = part.get("low_times"), part.get("high_times")
    if low is not None:
        limit = low * baseline
        find_at_least(state, part, "least_of_baseline", both, limit, numbers)
    if high is not None:
        limit = high * baseline
        find_at_most(state, part, "most_of_baseline", both, limit, numbers)


def find_expected(state: State, part: Part) -> None:
    """What was observed is what was expected; a number is something that operated."""
    value = state.value
    outcome = value if isinstance(value, Outcome) else Outcome.OPERATED
    not_there = outcome is Outcome.NOT_FITTED and part.get("if_fitted", False)
    sure = not_there or outcome in part["met"]
    perhaps = outcome not in part["missed"]
    verdict = verdict_of(sure=sure, perhaps=perhaps, exact=False)
    state.find(verdict, "expected", part, numbers={"outcome": str(outcome)})
