"""Gates: what must be known, or so, before a reading is judged; and its instrument."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from models.judging.near import at_least
from models.judging.parts import Gate, Part
from models.judging.row_gates import row_fault
from models.judging.rules import Rule, applies
from models.judging.state import State
from models.judging.verdicts import Verdict
from models.words import say

IN_DATE, LAPSED, NO_CALIBRATION = "in_date", "lapsed", "none"
CALIBRATION: Gate = {
    "on": "calibration",
    "one_of": [IN_DATE],
    "reasons": {
        LAPSED: say("calibration.out"),
        NO_CALIBRATION: say("calibration.out"),
    },
    "last": True,
}
NOTHING_BEYOND = "none"
INSTRUMENT: Gate = {
    "on": "instrument_limit",
    "one_of": [NOTHING_BEYOND],
    "reasons": {
        beyond: say(f"instrument.{beyond}") for beyond in ("supply", "level", "reading")
    },
    "last": True,
}


def with_instrument_gate(rule: Rule) -> Rule:
    """Return the rule for a recorded reading: its instrument can have shown it.

    The condition `instrument_limit` is `none`, `supply`, `level` or `reading`, what
    is beyond the instrument; the program sets it.
    """
    return with_last_gate(rule, INSTRUMENT)


def with_calibration_gate(rule: Rule) -> Rule:
    """Return the rule for a recorded reading: its instrument must be in calibration.

    The condition `calibration` is `in_date`, `lapsed` or `none`; the program sets it.
    """
    return with_last_gate(rule, CALIBRATION)


def with_last_gate(rule: Rule, gate: Gate) -> Rule:
    """Return the rule with one gate more; as it is where it has one on that condition.

    It is worked out once for a rule: a gate on a condition is always the same gate.
    """
    name = gate["on"]
    if name not in rule.with_gates:
        has = any(one.get("on") == name for one in rule.gates)
        rule.with_gates[name] = (
            rule if has else replace(rule, gates=(*rule.gates, gate))
        )
    return rule.with_gates[name]


def pass_gates(state: State, gates: Iterable[Part]) -> None:
    """Note each gate that does not open; a reason of the rule never does."""
    for gate in gates:
        shut = applies(gate, state.conditions) and not _opens(gate, state)
        if shut and not (state.rule.derive and _is_said(state, gate)):
            state.unknown("gate", gate)


def _is_said(state: State, gate: Part) -> bool:
    """Return whether it was said before that what the gate looks at is not known."""
    name = gate.get("on")
    if name is None or _ends(state, name)[0] is not None:
        return False
    if name in state.derived:  # why it is not, was said as well
        return state.verdict is not None
    return any(step.code == "gate" and _on(step.part) == name for step in state.steps)


def _on(part: Part | None) -> Any:
    return None if part is None else part.get("on")


def pass_last_gates(state: State) -> None:
    """Withhold the verdict where a last gate does not open.

    What is outside stays so: a bad number is not excused by a bad instrument. What was
    found within or marginal counts for nothing.
    """
    for gate in state.rule.last_gates:
        if applies(gate, state.conditions) and not _opens(gate, state):
            withhold(state, "gate", gate)


def withhold(state: State, code: str, part: Part | None = None) -> None:
    """Make a verdict unjudged for what the step of this code says; outside stays."""
    outside = state.verdict is Verdict.OUTSIDE
    state.find(None if outside else Verdict.UNJUDGED, code, part)
    if not outside:
        state.verdict = Verdict.UNJUDGED


def _opens(gate: Part, state: State) -> bool:
    """Return whether a gate lets the reading pass."""
    if "series" in gate:
        return row_fault(gate, state) is None
    if gate.get("not_zero"):  # of what was typed: nothing is no reading
        return state.interval is None or state.interval.high != 0
    name = gate.get("on")
    if name is None:
        return False
    low, high = _ends(state, name)
    if low is None:
        return False
    words = gate.get("one_of")
    if words is not None:
        return low in words
    least, most = gate.get("at_least"), gate.get("at_most")
    if isinstance(low, str):  # a word is no number
        return least is None and most is None
    return (least is None or at_least(low, least)) and (
        most is None or at_least(most, high)
    )


def _ends(state: State, name: str) -> tuple[Any, Any]:
    """Return between what a derived value lies, or a condition twice; None: unknown."""
    if name not in state.derived:
        given = state.conditions.get(name)
        return given, given
    value = state.derived[name]
    return (None, None) if value is None else (value.low, value.high)
