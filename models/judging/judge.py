"""Judge readings: the one path from what was typed to a verdict."""

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from models.judging import bounds
from models.judging.group import Lowest, compare_lowest, lowest_of
from models.judging.near import at_least
from models.judging.notes.speak import say_notes
from models.judging.quantities import convert, said_unit
from models.judging.reading_check import Checked
from models.judging.rules import Rule, applies
from models.judging.state import State, typed
from models.judging.timing import timing
from models.judging.values import Interval, Outcome
from models.judging.verdicts import Judgement, Reading, Verdict
from models.judging.wording import figure, plain

NO_NUMBER = "A number is wanted here, not an outcome."
CONDITION_WORDS = {"test_kv": "test voltage", "test_current_a": "test current"}


def judge_checked(
    items: Sequence[tuple[Rule, Reading, Checked]],
    *,
    working: bool = True,
    notes: bool = True,
) -> list[Judgement]:
    """Judge *items* as one group, in their order.

    Each comes with what `check_reading` gave for it. Without *working* the verdicts
    and numbers are the same, and reason, sources and working are empty: for who wants
    to know only how a reading would be judged. Without *notes* what is said beside the
    verdict is left out, with its sources. All that is unknown leaves the reading
    unjudged with the reason. Decisions: docs/judging.md.
    """
    states: list[State] = []
    compared: list[State] = []
    for rule, reading, checked in items:
        state = _prepare(rule, reading, checked, quiet=not working)
        states.append(state)
        if rule.compares and state.interval is not None and not state.findings:
            compared.append(state)
    lowest = lowest_of(compared)
    for state in states:
        if not state.findings:
            _apply_bounds(state, lowest)
        if working and notes:
            say_notes(state)
    return [state.judgement() for state in states]


def _prepare(rule: Rule, reading: Reading, checked: Checked, *, quiet: bool) -> State:
    """Pass the gates and correct: everything that needs no other reading."""
    value, unit = checked
    state = State(rule, reading, value, unit, quiet=quiet)
    if not (state.exact or quiet):
        _say_reading(state)
    if value is Outcome.BROKE_DOWN:
        state.find(Verdict.OUTSIDE, "It broke down.")
        _cite_applying(state)
        return state
    _pass_gates(state)
    if state.interval is not None:
        _correct(state, state.interval)
    return state


def _say_reading(state: State) -> None:
    value = state.value
    if isinstance(value, Outcome):
        state.working.append(f"Observed: {value.value.replace('_', ' ')}.")
    else:
        side = "at least" if value.low is not None else "at most"
        state.working.append(
            f"Read {typed(state)}: {side} {plain(value.bound)} "
            f"{said_unit(state.unit)}, and no more is known."
        )


def _pass_gates(state: State) -> None:
    conditions = state.conditions
    for part in state.rule.unjudged:
        if applies(part, conditions):
            state.find(Verdict.UNJUDGED, part["reason"])
    for gate in state.rule.gates:
        if not applies(gate, conditions):
            continue
        value = conditions.get(gate["on"])
        wanted = gate.get("at_least")
        if wanted is None:
            if value is None:
                state.find(Verdict.UNJUDGED, gate["reason"])
        elif value is None or not at_least(value, wanted):
            _say_too_low(state, gate, value)


def _say_too_low(state: State, gate: Mapping[str, Any], value: float | None) -> None:
    what = CONDITION_WORDS.get(gate["on"], gate["on"])
    wanted = f"{plain(gate['at_least'])} {gate['unit']}"
    if value is None:
        state.find(Verdict.UNJUDGED, f"The {what} is not known; {wanted} is wanted.")
    else:
        state.find(
            Verdict.UNJUDGED,
            f"The {what} {plain(value)} {gate['unit']} is below the {wanted} "
            "that is wanted.",
        )


def _correct(state: State, value: Interval) -> None:
    correction = state.rule.correction
    temperature_c = state.conditions.get("temperature_c")
    corrected = state.rule.correct(temperature_c)
    state.factor = factor = corrected.factor
    _measure(state, value, 1.0 if factor is None else factor)
    if factor is None:
        if temperature_c is not None or not state.findings:
            state.find(Verdict.UNJUDGED, corrected.words)
        return
    if state.quiet:
        return
    if correction["by"] != "none":
        state.source(correction.get("cite"))
        state.working.append(
            f"{typed(state)} at {plain(temperature_c or 0.0)} °C × "
            f"{figure(factor)} = {state.say(state.shown)} at "
            f"{plain(correction['reference_c'])} °C ({corrected.words})."
        )
    _say_uncertainty(state)


def _measure(state: State, value: Interval, factor: float) -> None:
    """Bring the interval and U to the rule's unit and the reference temperature.

    Nothing measured here is negative, so that an under-range reading begins at 0.
    """
    unit, to = state.unit, state.rule.unit
    assert unit is not None
    assert to is not None
    state.shown = convert(value.bound, unit, to) * factor
    state.low = 0.0 if value.low is None else state.shown
    state.high = math.inf if value.high is None else state.shown
    accuracy = state.reading.accuracy
    if accuracy is not None and state.rule.decision != "simple":
        state.expanded = convert(accuracy.expanded(value.bound, unit), unit, to)
        state.expanded *= factor


def _say_uncertainty(state: State) -> None:
    accuracy = state.reading.accuracy
    if accuracy is None or state.expanded is None:
        state.working.append(
            "No accuracy is stated for the instrument: simple acceptance."
        )
        return
    stated = _accuracy_words(accuracy.pct, accuracy.fixed, accuracy.unit or state.unit)
    corrected = "" if state.rule.correction["by"] == "none" else ", corrected"
    state.working.append(
        f"U = ± {state.say_u()} ({stated}, divided by √3, k = 2"
        f"{corrected}): guarded acceptance."
    )


@lru_cache(maxsize=1024)
def _accuracy_words(pct: float, fixed: float, unit: str | None) -> str:
    return f"{plain(pct)} % of reading + {plain(fixed)} {said_unit(unit)}"


def _cite_applying(state: State) -> None:
    for bound in state.rule.bounds:
        if applies(bound, state.conditions):
            state.source(bound.get("cite"))


def _apply_bounds(state: State, lowest: Lowest | None) -> None:
    applying = [b for b in state.rule.bounds if applies(b, state.conditions)]
    for bound in applying:
        state.source(bound.get("cite"))
        if bound["kind"] == "high_of_lowest":
            has_maximum = any(other["kind"] == "high" for other in applying)
            _compare(state, bound, lowest, alone=has_maximum)
        else:
            _apply(state, bound)
    if not state.findings:
        state.find(Verdict.UNJUDGED, "No criterion applies to this reading.")


def _apply(state: State, bound: Mapping[str, Any]) -> None:
    kind = bound["kind"]
    if kind == "withstand":
        bounds.withstand(state, bound)
    elif kind == "operating_time":
        timing(state, bound)
    elif state.interval is None:
        state.find(Verdict.UNJUDGED, NO_NUMBER)
    elif kind == "low":
        state.narrow(low=bound["value"])
        bounds.compare_low(state, bound["value"])
    else:
        state.narrow(high=bound["value"])
        bounds.compare_high(state, bound["value"])


def _compare(
    state: State, bound: Mapping[str, Any], lowest: Lowest | None, *, alone: bool
) -> None:
    if state.interval is None or lowest is None:
        state.find(Verdict.UNJUDGED, NO_NUMBER)
    else:
        compare_lowest(state, bound, lowest, alone_is_judged=alone)
