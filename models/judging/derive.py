"""Values that a rule derives from a reading and its conditions, each with its U."""

import math
from collections.abc import Callable, Iterable, Mapping
from functools import partial

from models.judging.angles import angle_of, magnitude_of, wrapped
from models.judging.leak import Leak, leak_of
from models.judging.measured import Measured
from models.judging.moisture import vapour_of
from models.judging.near import finite
from models.judging.parts import Derived, Part
from models.judging.rules import applies
from models.judging.series_words import WORDS, derive_from_row
from models.judging.state import State

READING = "reading"
SIGNED = ("minus", "error_pct")  # what these give may always lie below zero

OPS: Mapping[str, Callable[[float, float], float]] = {
    "plus": lambda x, y: x + y,
    "minus": lambda x, y: x - y,
    "over": lambda x, y: x / y,
    "error_pct": lambda x, y: 100 * (x / y - 1),
}
QUOTIENTS = {"over": 1.0, "error_pct": 100.0}  # what a quotient is multiplied by


def leak_named(state: State, name: str) -> Leak | None:
    """Return the leak that a derived word of this name works out; None: not known."""
    for part in state.rule.derive:
        if part["name"] == name and part["op"] == "rate":
            second = value_named(state, part.get("of", READING))
            return leak_of(state, part, second, partial(value_named, state))
    return None


def _rate(state: State, part: Part, x: Measured | None) -> Measured | None:
    leak = leak_of(state, part, x, partial(value_named, state))
    return None if leak is None else leak.rate


def _vapour(state: State, part: Part, x: Measured | None) -> Measured | None:
    return vapour_of(part, x, partial(value_named, state))


Own = Callable[[State, Part, Measured | None], Measured | None]


def _pointer(work: Callable[[Part, Measured, Measured], Measured | None]) -> Own:
    """Return what works a pointer out of its upright and its level part."""

    def derived(state: State, part: Part, of: Measured | None) -> Measured | None:
        by = operand_of(state, part)
        return None if of is None or by is None else work(part, of, by)

    return derived


def _from_row(state: State, part: Part, _of: Measured | None) -> Measured | None:
    found = derive_from_row(state, part)
    return None if isinstance(found, str) else found


# Words that are no arithmetic of two values.
OWN: Mapping[str, Own] = {
    "rate": _rate,
    "vapour": _vapour,
    "angle": _pointer(angle_of),
    "magnitude": _pointer(magnitude_of),
    **dict.fromkeys(WORDS, _from_row),
}


def derive(state: State, parts: Iterable[Derived]) -> None:
    """Work out each part in order; what cannot be leaves the reading unjudged.

    A part whose `when` does not fit passes on what it is `of`, unchanged and unsaid.
    """
    for part in parts:
        of = value_named(state, part.get("of", READING))
        if not applies(part, state.conditions):
            state.derived[part["name"]] = of
            continue
        value = _derived(state, part, of)
        state.derived[part["name"]] = value
        if value is not None:
            numbers = {"value": value.shown, "expanded": value.expanded}
            state.find(None, "derived", part, numbers=numbers)
        elif state.verdict is None:
            state.unknown("not_derived", part)


def value_named(state: State, name: str, unit: str = "") -> Measured | None:
    """Return the reading, a derived value or a condition; None: it is not known.

    *unit* is that in which a condition is said.
    """
    if name == READING:
        return None if state.factor is None else state.measured
    if name in state.derived:
        return state.derived[name]
    return _condition(state, name, unit)


def _condition(state: State, name: str, unit: str) -> Measured | None:
    """Return a condition with U by its accuracy, where that is known."""
    value = state.conditions.get(name)
    if value is None or not finite(value):
        return None
    accuracy, expanded = state.reading.conditions_accuracy.get(name), None
    if accuracy is not None and state.rule.decision != "simple":
        expanded = accuracy.expanded(value, accuracy.unit or "")
    return Measured(value, value, value, expanded=expanded, unit=unit, signed=True)


def operand_of(state: State, part: Part) -> Measured | None:
    """Return what the value is added to, subtracted by or divided by."""
    by = part["expected"] if part["op"] == "error_pct" else part["by"]
    if isinstance(by, Mapping):
        return value_named(state, by["on"], by.get("unit", ""))
    return Measured(by, by, by, expanded=None, unit="", signed=True)


def _derived(state: State, part: Derived, x: Measured | None) -> Measured | None:
    """Return *x* with the part's second value, U by the derivatives.

    JCGM 100:2008 (GUM) 5.1.2: of a sum both U as a root of squares, of a quotient both
    relative U; the known one alone where the other is not known.
    """
    if part["op"] in OWN:
        return OWN[part["op"]](state, part, x)
    y, op = operand_of(state, part), part["op"]
    if x is None or y is None or (op in QUOTIENTS and not _divides(y)):
        return None
    work = OPS[op]
    ends = [work(one, other) for one in (x.low, x.high) for other in (y.low, y.high)]
    shown = work(x.shown, y.shown)
    if not math.isfinite(shown):
        return None
    signed = bool(part.get("signed") or op in SIGNED or x.signed)
    if any(map(math.isnan, ends)):  # of two without end
        ends = [-math.inf, math.inf]
    low, high = min(ends), max(ends)
    if "wrap" in part:
        shown = wrapped(shown, part["wrap"])
        half = part["wrap"] / 2
        low, high = (shown, shown) if low == high else (-half, half)
    return Measured(
        low if signed or math.isfinite(low) or high < 0 else 0.0,
        high,
        shown,
        expanded=_expanded(op, x, y),
        unit=part.get("unit", x.unit),
        signed=signed,
    )


def _divides(y: Measured) -> bool:
    """Return whether zero is none of the values that *y* may have."""
    return y.low > 0 or y.high < 0


def _expanded(op: str, x: Measured, y: Measured) -> float | None:
    if x.expanded is None and y.expanded is None:
        return None
    slope = other = 1.0
    if op in QUOTIENTS:
        slope = QUOTIENTS[op] / y.shown
        other = slope * x.shown / y.shown
    return math.hypot(slope * (x.expanded or 0.0), other * (y.expanded or 0.0))
