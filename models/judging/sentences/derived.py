"""How a value was derived, or why it could not be."""

from collections.abc import Mapping

from models.judging.derive import READING, operand_of, value_named
from models.judging.measured import Measured
from models.judging.parts import Part
from models.judging.rules import applies
from models.judging.sentences import gas, rows
from models.judging.sentences.names import name_of
from models.judging.series_words import WORDS
from models.judging.state import State
from models.judging.steps import Step
from models.judging.wording import amount, as_factor, plain, written
from models.words import say

POINTERS = ("angle", "magnitude")


def derived_sentences(state: State, step: Step) -> list[str]:
    """Return the arithmetic with its numbers, and U where it is known."""
    part = step.part
    assert part is not None
    name, unit = name_of(state, part["name"]), part.get("unit", "")
    value = amount(step.numbers["value"], unit)
    if not applies(part, state.conditions):
        if name == name_of(state, part.get("of", READING)):
            return []  # the same was said of what it passes on
        arithmetic = [say("derived.as_it_is", name=name, of=value)]
    elif part["op"] in gas.DERIVED:
        of = of_at_its_time(state, part)
        assert of is not None
        arithmetic = gas.DERIVED[part["op"]](state, part, of, value)
    elif part["op"] in WORDS:
        arithmetic = [rows.derived_sentence(state, part, name, value)]
    else:
        arithmetic = [_arithmetic(state, part, name, value)]
    expanded = step.numbers["expanded"]
    if expanded is None:
        return arithmetic
    u = amount(expanded, unit, step.numbers["value"])
    return [*arithmetic, say("derived.u", name=name, u=u)]


def _arithmetic(state: State, part: Part, name: str, value: str) -> str:
    return say(
        "derived.wrap" if "wrap" in part else f"derived.{part['op']}",
        name=name,
        of=_of(state, part),
        by=_in_brackets(_operand(state, part)),
        value=value,
    )


def of_at_its_time(state: State, part: Part) -> Measured | None:
    """Return what a part is `of`: the reading as read, but for `after` as corrected."""
    name = part.get("of", READING)
    if name == READING and not part.get("after"):
        return state.as_read
    return value_named(state, name)


def _in_brackets(words: str) -> str:
    """Return a second value as it stands behind a sign: a negative one in brackets."""
    return f"({words})" if words.startswith("-") else words


def _of(state: State, part: Part) -> str:
    """Return the first value: a condition as it was given, with its unit."""
    name, measured = part.get("of", READING), of_at_its_time(state, part)
    if measured is None or name == READING or name in state.derived:
        return _value(measured)
    return written(measured.shown, part.get("of_unit", ""))


def _value(measured: Measured | None) -> str:
    """Return the reading or a derived value as people say it."""
    return "" if measured is None else amount(measured.shown, measured.unit)


def _operand(state: State, part: Part) -> str:
    """Return the second value: a derived one, a condition, or a number."""
    measured = operand_of(state, part)
    by = part["expected"] if part["op"] == "error_pct" else part["by"]
    if measured is None:
        return ""
    if not isinstance(by, Mapping):
        return as_factor(by)
    if by["on"] in state.derived:
        return _value(measured)
    return written(measured.shown, measured.unit)


def not_derived_sentence(state: State, step: Step) -> str:
    """Return what is wanting; of a bound that nothing can be compared."""
    part = step.part
    assert part is not None
    if "op" not in part:
        return say("not_derived.of", what=name_of(state, part["of"]))
    name = name_of(state, part["name"])
    if part["op"] in WORDS:
        return rows.not_derived_sentence(state, part, name)
    if of_at_its_time(state, part) is None:
        return say(
            "not_derived", name=name, what=name_of(state, part.get("of", READING))
        )
    if part["op"] in gas.DERIVED:
        return say(f"not_derived.{part['op']}", name=name)
    if part["op"] in POINTERS and operand_of(state, part) is not None:
        return say("not_derived.pointer", name=name)
    by = part["expected"] if part["op"] == "error_pct" else part["by"]
    if isinstance(by, Mapping):
        what = name_of(state, by["on"], by.get("label"))
    else:
        what = plain(by)
    known = operand_of(state, part) is not None
    return say("not_derived.by_zero" if known else "not_derived", name=name, what=what)
