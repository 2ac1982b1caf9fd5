"""Decide: the one path from what was typed to a verdict, as steps without words."""

import math
from collections.abc import Sequence

from models.judging.bounds import find_at_least, find_at_most, find_withstood
from models.judging.group import Lowest, find_near_lowest, lowest_of
from models.judging.measured import Measured
from models.judging.near import at_least
from models.judging.quantities import convert
from models.judging.reading_check import Checked
from models.judging.rules import Part, Rule, applies
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
    return states


def _open(state: State) -> bool:
    """Return whether a number is still to be compared."""
    return state.verdict is None and state.measured is not None


def _opened(rule: Rule, reading: Reading, checked: Checked) -> State:
    """Pass the gates and correct: everything that needs no other reading."""
    value, unit = checked
    state = State(rule, reading, value, unit)
    if value is Outcome.BROKE_DOWN:
        state.find(Verdict.OUTSIDE, "broke_down")
        return state
    for part in rule.unjudged:
        if applies(part, state.conditions):
            state.unknown("gate", part)
    for gate in rule.gates:
        if applies(gate, state.conditions) and not _opens(gate, state):
            state.unknown("gate", gate)
    if state.interval is not None:
        _correct(state, state.interval)
    return state


def _opens(gate: Part, state: State) -> bool:
    value = state.conditions.get(gate["on"])
    wanted = gate.get("at_least")
    return value is not None and (wanted is None or at_least(value, wanted))


def _correct(state: State, interval: Interval) -> None:
    """Bring the reading and U to the rule's unit and the reference temperature."""
    temperature_c = state.conditions.get("temperature_c")
    state.factor = factor = state.rule.correct(temperature_c)
    state.measured = _measured(state, interval, factor or 1.0)
    if factor is not None:
        state.find(None, "corrected", numbers={"factor": factor})
    elif temperature_c is not None or state.verdict is None:
        state.unknown("not_corrected")


def _measured(state: State, interval: Interval, factor: float) -> Measured:
    """Return the corrected value.

    Nothing measured here is negative, so that an under-range reading begins at 0.
    """
    unit, to = state.unit, state.rule.unit
    assert unit is not None
    assert to is not None
    bound = interval.bound
    shown = convert(bound, unit, to) * factor
    accuracy, expanded = state.reading.accuracy, None
    if accuracy is not None and state.rule.decision != "simple":
        expanded = convert(accuracy.expanded(bound, unit), unit, to) * factor
    low = 0.0 if interval.low is None else shown
    high = math.inf if interval.high is None else shown
    return Measured(low, high, shown, expanded=expanded, unit=to, signed=False)


def _find_bounds(state: State, lowest: Lowest | None) -> None:
    for bound in state.rule.bounds:
        if applies(bound, state.conditions):
            _find_bound(state, bound, lowest)
    if state.verdict is None:
        state.unknown("no_criterion")


def _find_bound(state: State, bound: Part, lowest: Lowest | None) -> None:
    kind, measured = bound["kind"], state.measured
    if kind == "withstand":
        find_withstood(state, bound)
    elif kind == "operating_time":
        find_in_time(state, bound)
    elif measured is None:
        state.unknown("number_wanted", bound)
    elif kind == "low":
        find_at_least(state, bound, "minimum", measured, bound["value"])
    elif kind == "high":
        find_at_most(state, bound, "maximum", measured, bound["value"])
    else:
        assert lowest is not None
        find_near_lowest(state, bound, measured, lowest, alone=_has_maximum(state))


def _has_maximum(state: State) -> bool:
    """Return whether a maximum judges a reading that has no company."""
    return any(
        bound["kind"] == "high" and applies(bound, state.conditions)
        for bound in state.rule.bounds
    )
