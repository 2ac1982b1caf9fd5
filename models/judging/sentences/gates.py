"""What was wanting before a reading could be judged."""

from models.judging.parts import Part
from models.judging.quantities import said_unit
from models.judging.reading_check import one_of
from models.judging.sentences.names import name_of
from models.judging.sentences.rows import row_gate_sentence
from models.judging.state import State
from models.judging.steps import Step
from models.judging.wording import figure, plain
from models.words import say

DIGITS = 6  # significant digits of a derived value: enough to tell it from its limit


def gate_sentence(state: State, step: Step) -> str:
    """Return a reason of the rule, or what was wanted of a condition."""
    gate = step.part
    assert gate is not None
    if "series" in gate:
        return row_gate_sentence(state, gate)
    if gate.get("at_least") is not None or gate.get("at_most") is not None:
        said = _limit_sentence(state, gate)
        return f"{said} {gate['reason']}" if gate.get("with_reason") else said
    if gate.get("one_of") is not None:
        return _choice_sentence(state, gate)
    return str(gate["reason"])


def _limit_sentence(state: State, gate: Part) -> str:
    name, unit = gate["on"], said_unit(gate.get("unit", ""))
    what = name_of(state, name, gate.get("label"))
    value = state.conditions.get(name)
    if name in state.derived:
        derived = state.derived[name]
        value = None if derived is None else float(figure(derived.shown, DIGITS))
    is_number = value is not None and not isinstance(value, str)
    kind = _missed(gate, value if is_number else None)
    wanted = f"{plain(gate[kind])} {unit}".strip()
    if not is_number:
        return say(f"gate.{kind}.unknown", what=what, wanted=wanted)
    shown = f"{plain(value)} {unit}".strip()
    return say(f"gate.{kind}", what=what, value=shown, wanted=wanted)


def _missed(gate: Part, value: float | None) -> str:
    """Return which of the ends that a gate has was missed; the first if unknown."""
    least, most = gate.get("at_least"), gate.get("at_most")
    above = most is not None and value is not None and value > most
    return "at_most" if least is None or above else "at_least"


def _choice_sentence(state: State, gate: Part) -> str:
    """Return the reason for the value that was given, or for any."""
    value = state.conditions.get(gate["on"])
    reason = gate.get("reasons", {}).get(value, gate.get("reason"))
    if reason is not None:
        return str(reason)
    what = name_of(state, gate["on"], gate.get("label"))
    wanted = one_of(gate["one_of"])
    if value is None:
        return say("gate.one_of.unknown", what=what, wanted=wanted)
    return say("gate.one_of", what=what, value=str(value), wanted=wanted)
