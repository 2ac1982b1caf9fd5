"""Decide: the one path from what was typed to a verdict, as steps without words."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial

from models.judging.bands import find_in_band
from models.judging.bounds import find_maximum, find_minimum, find_withstood
from models.judging.derive import derive, value_named
from models.judging.expected import find_expected, find_near, find_of_baseline
from models.judging.gates import (
    pass_gates,
    pass_last_gates,
    withhold,
)
from models.judging.group import (
    Lowest,
    find_near_lowest,
    find_over_lowest,
    lowest_of,
)
from models.judging.isochor import carry, temperature_of
from models.judging.measured import Measured
from models.judging.near_angle import find_near_angle
from models.judging.parts import Part
from models.judging.quantities import convert, convert_difference
from models.judging.reading_check import Checked
from models.judging.rules import Rule, applies
from models.judging.state import State
from models.judging.timing import find_in_time
from models.judging.values import Interval, Outcome
from models.judging.verdicts import Reading, Verdict


def decide(items: Sequence[tuple[Rule, Reading, Checked]]) -> list[State]:
    """Judge *items* as one group: each as the state with its verdict and steps.

    The third of an item is what `check_reading` gave for its text.
    """
    states = [_opened(*item) for item in items]
    compared = [state for state in states if state.rule.compares and _open(state)]
    lowest = lowest_of(compared) if compared else None
    for state in states:
        if state.verdict is None:
            _find_bounds(state, lowest)
        if state.beyond_ranges:
            withhold(state, "beyond_ranges")
        if state.rule.last_gates:
            pass_last_gates(state)
    return states


def _open(state: State) -> bool:
    """Return whether a number is still to be compared."""
    return state.verdict is None and state.measured is not None


def _opened(rule: Rule, reading: Reading, checked: Checked) -> State:
    """Pass the gates, derive and correct: everything that needs no other reading."""
    value, unit = checked
    state = State(rule, reading, value, unit)
    if value is Outcome.BROKE_DOWN:
        state.find(Verdict.OUTSIDE, "broke_down")
        return state
    pass_gates(state, rule.first_gates)
    if rule.derive:
        _correct_and_derive(state)
    elif state.interval is not None:
        _correct(state, state.interval)
    return state


def _correct_and_derive(state: State) -> None:
    """Derive from the reading as read, correct it, derive from the corrected one."""
    rule = state.rule
    if state.interval is not None:
        state.measured = state.as_read = _measured(state, state.interval, 1.0)
    derive(state, [part for part in rule.derive if not part.get("after")])
    if state.interval is not None:
        _correct(state, state.interval)
    derive(state, [part for part in rule.derive if part.get("after")])
    pass_gates(state, rule.late_gates)


def _correct(state: State, interval: Interval) -> None:
    """Bring the reading and U to the rule's unit and the reference temperature."""
    if state.rule.correction["by"] == "isochor":
        _correct_along(state, interval)
        return
    temperature_c = state.conditions.get("temperature_c")
    state.factor = factor = state.rule.correct(temperature_c)
    state.measured = _measured(state, interval, factor or 1.0)
    if factor is not None:
        state.find(None, "corrected", numbers={"factor": factor})
    elif temperature_c is not None or state.verdict is None:
        state.unknown("not_corrected")


def _correct_along(state: State, interval: Interval) -> None:
    """Carry a gas pressure, absolute, to the reference temperature."""
    correction, named = state.rule.correction, partial(value_named, state)
    read = state.measured = state.as_read = _measured(state, interval, 1.0)
    pressure = named(correction["of"]) if "of" in correction else read
    at = temperature_of(state, "temperature_c", named)
    found = carry(correction, pressure, at) if pressure and at else None
    if found is not None:
        state.measured = found.value
        state.find(None, "carried", numbers={"density": found.density})
        return
    state.factor = None
    if (pressure and at) or state.verdict is None:
        state.unknown("not_carried")


def _measured(state: State, interval: Interval, factor: float) -> Measured:
    """Return the corrected value.

    What is not signed is not negative, so that an under-range reading begins at 0.
    """
    unit, to = state.unit, state.rule.unit
    assert unit is not None
    assert to is not None
    bound = interval.bound
    shown = convert(bound, unit, to) * factor
    accuracy, expanded = state.reading.accuracy, None
    if accuracy is not None and state.rule.decision != "simple":
        stated = accuracy.at(bound, unit)
        if stated is None:
            state.beyond_ranges = True
        else:
            expanded = convert_difference(stated.expanded(bound, unit), unit, to)
            expanded *= factor
    signed = state.rule.signed
    least = -math.inf if signed else 0.0
    low = least if interval.low is None else shown
    high = math.inf if interval.high is None else shown
    unit = to if state.rule.said is None else state.base
    return Measured(low, high, shown, expanded=expanded, unit=unit, signed=signed)


def _find_bounds(state: State, lowest: Lowest | None) -> None:
    for part in state.rule.bounds:
        if applies(part, state.conditions):
            _find_bound(state, part, lowest)
    if state.verdict is None:
        state.unknown("no_criterion")


def _find_bound(state: State, part: Part, lowest: Lowest | None) -> None:
    """Compare with one bound what it is `of`; an outcome is compared with few."""
    kind, measured = part["kind"], state.measured
    if kind in OUTCOME_BOUNDS:
        OUTCOME_BOUNDS[kind](state, part)
        return
    if "of" in part:
        measured = value_named(state, part["of"], part.get("unit", ""))
        if measured is None:
            state.unknown("not_derived", part)
            return
    if measured is None:
        state.unknown("number_wanted", part)
    elif kind in BOUNDS:
        BOUNDS[kind](state, part, measured)
    else:
        assert lowest is not None
        compare, otherwise = COMPARISONS[kind]
        compare(state, part, measured, lowest, alone=otherwise(state))


def _has_maximum(state: State) -> bool:
    """Return whether a maximum judges a reading that has no company."""
    return any(part["kind"] == "high" for part in _applying(state))


def _has_another(state: State) -> bool:
    """Return whether any bound judges a reading that has no company."""
    return any(part["kind"] not in COMPARISONS for part in _applying(state))


def _applying(state: State) -> Iterable[Part]:
    return (part for part in state.rule.bounds if applies(part, state.conditions))


# Kind of bound -> what compares with it: an outcome or a number, a number alone, and a
# number with others; the last with what judges a reading that has no company.
OUTCOME_BOUNDS: Mapping[str, Callable[[State, Part], None]] = {
    "withstand": find_withstood,
    "operating_time": find_in_time,
    "expected": find_expected,
}
BOUNDS: Mapping[str, Callable[[State, Part, Measured], None]] = {
    "low": find_minimum,
    "high": find_maximum,
    "near": find_near,
    "near_angle": find_near_angle,
    "bands": find_in_band,
    "of_baseline": find_of_baseline,
}
COMPARISONS: Mapping[str, tuple[Callable[..., None], Callable[[State], bool]]] = {
    "high_of_lowest": (find_near_lowest, _has_maximum),
    "over_lowest": (find_over_lowest, _has_another),
}
