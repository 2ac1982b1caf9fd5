"""Judge readings: the one path from what was typed to a verdict."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.judging import bounds
from models.judging.corrections import correction_factor
from models.judging.group import Lowest, compare_lowest, lowest_of
from models.judging.kinds import (
    contact_resistance,
    dielectric_withstand,
    insulation_resistance,
    relay_timing,
    vacuum_integrity,
)
from models.judging.near import at_least
from models.judging.procedures import Procedure
from models.judging.quantities import said_unit
from models.judging.reading_check import check_reading
from models.judging.rules import Rule, applies
from models.judging.state import State, in_rule_unit, typed
from models.judging.values import Interval, Outcome
from models.judging.verdicts import Judgement, Reading, Verdict
from models.judging.wording import figure, plain

PROCEDURES: Mapping[str, Procedure] = {
    kind.PROCEDURE.name: kind.PROCEDURE
    for kind in (
        insulation_resistance,
        contact_resistance,
        vacuum_integrity,
        relay_timing,
        dielectric_withstand,
    )
}
CONDITION_WORDS = {"test_kv": "test voltage", "test_current_a": "test current"}


def judge(items: Sequence[tuple[Rule, Reading]]) -> list[Judgement]:
    """Judge *items* as one group, in their order.

    Raises InputError when a text cannot be a reading of its procedure at all;
    everything else that is unknown leaves the reading unjudged with the reason.
    Decisions: docs/judging.md.
    """
    states = [prepare(rule, reading) for rule, reading in items]
    compared = [state for state in states if _compared(state)]
    lowest = lowest_of(compared) if compared else None
    for state in states:
        if not state.stopped:
            _apply_bounds(state, lowest)
    return [state.judgement() for state in states]


def prepare(rule: Rule, reading: Reading) -> State:
    """Read, pass the gates and correct: everything that needs no other reading."""
    value, unit = check_reading(PROCEDURES[rule.procedure], reading.text, reading.unit)
    state = State(rule=rule, reading=reading, value=value, unit=unit)
    _say_reading(state)
    if value is Outcome.BROKE_DOWN:
        state.find(Verdict.OUTSIDE, "It broke down.")
        _cite_applying(state)
        return state
    _pass_gates(state)
    if isinstance(value, Interval):
        _correct(state, value)
    return state


def _say_reading(state: State) -> None:
    value = state.value
    if isinstance(value, Outcome):
        state.working.append(f"Observed: {value.value.replace('_', ' ')}.")
    elif not value.exact:
        side = "at least" if value.low is not None else "at most"
        state.working.append(
            f"Read {typed(state)}: {side} {plain(value.bound)} "
            f"{said_unit(state.unit)}, and no more is known."
        )


def _pass_gates(state: State) -> None:
    for part in state.rule.unjudged:
        if applies(part, state.conditions):
            state.find(Verdict.UNJUDGED, part["reason"])
    for gate in state.rule.gates:
        if not applies(gate, state.conditions):
            continue
        value = state.conditions.get(gate["on"])
        if "at_least" not in gate:
            if value is None:
                state.find(Verdict.UNJUDGED, gate["reason"])
            continue
        _pass_number(state, gate, value)


def _pass_number(state: State, gate: Mapping[str, Any], value: float | None) -> None:
    what = CONDITION_WORDS.get(gate["on"], gate["on"])
    wanted = f"{plain(gate['at_least'])} {gate['unit']}"
    if value is None:
        state.find(Verdict.UNJUDGED, f"The {what} is not known; {wanted} is wanted.")
    elif not at_least(value, gate["at_least"]):
        state.find(
            Verdict.UNJUDGED,
            f"The {what} {plain(value)} {gate['unit']} is below the {wanted} "
            "that is wanted.",
        )


def _correct(state: State, value: Interval) -> None:
    assert state.unit is not None
    correction = state.rule.correction
    state.low, state.high = in_rule_unit(value, state.unit, state.rule)
    _expand(state)
    temperature_c = state.conditions.get("temperature_c")
    corrected = correction_factor(correction, temperature_c)
    state.factor = corrected.factor
    if corrected.factor is None:
        if temperature_c is not None:
            state.find(Verdict.UNJUDGED, corrected.words)
        return
    state.low *= corrected.factor
    state.high *= corrected.factor
    if state.expanded is not None:
        state.expanded *= corrected.factor
    if correction["by"] != "none":
        state.source(correction.get("cite"))
        state.working.append(
            f"{typed(state)} at {plain(temperature_c or 0.0)} °C × "
            f"{figure(corrected.factor)} = {state.say(state.shown)} at "
            f"{plain(correction['reference_c'])} °C ({corrected.words})."
        )
    _say_uncertainty(state)


def _expand(state: State) -> None:
    accuracy = state.reading.accuracy
    if accuracy is None or state.rule.decision == "simple":
        return
    assert isinstance(state.value, Interval)
    assert state.unit is not None
    expanded = accuracy.expanded(state.value.bound, state.unit)
    span = Interval(expanded, expanded)
    state.expanded = in_rule_unit(span, state.unit, state.rule)[0]


def _say_uncertainty(state: State) -> None:
    accuracy = state.reading.accuracy
    if accuracy is None or state.expanded is None:
        state.working.append(
            "No accuracy is stated for the instrument: simple acceptance."
        )
        return
    fixed = f"{plain(accuracy.fixed)} {said_unit(accuracy.unit or state.unit)}"
    state.working.append(
        f"U = ± {state.say(state.expanded)} ({plain(accuracy.pct)} % of reading + "
        f"{fixed}, divided by √3, k = 2"
        + (", corrected" if state.rule.correction["by"] != "none" else "")
        + "): guarded acceptance."
    )


def _compared(state: State) -> bool:
    """Whether the reading takes part in the comparison of its group."""
    if state.stopped or not state.numeric:
        return False
    return any(b["kind"] == "high_of_lowest" for b in state.rule.bounds)


def _cite_applying(state: State) -> None:
    for bound in state.rule.bounds:
        if applies(bound, state.conditions):
            state.source(bound.get("cite"))


def _apply_bounds(state: State, lowest: Lowest | None) -> None:
    applying = [b for b in state.rule.bounds if applies(b, state.conditions)]
    has_maximum = any(bound["kind"] == "high" for bound in applying)
    for bound in applying:
        state.source(bound.get("cite"))
        _apply(state, bound, lowest, alone=has_maximum)
    if not state.findings:
        state.find(Verdict.UNJUDGED, "No criterion applies to this reading.")


def _apply(
    state: State, bound: Mapping[str, Any], lowest: Lowest | None, *, alone: bool
) -> None:
    kind = bound["kind"]
    if kind == "withstand":
        bounds.withstand(state, bound)
    elif kind == "operating_time":
        bounds.timing(state, bound)
    elif not state.numeric:
        state.find(Verdict.UNJUDGED, "A number is wanted here, not an outcome.")
    elif kind == "low":
        state.narrow(low=bound["value"])
        bounds.compare_low(state, bound["value"])
    elif kind == "high":
        state.narrow(high=bound["value"])
        bounds.compare_high(state, bound["value"])
    elif lowest is not None:
        compare_lowest(state, bound, lowest, alone_is_judged=alone)
