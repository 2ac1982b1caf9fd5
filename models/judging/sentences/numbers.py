"""The numbers of a state as people read them: parts of its sentences."""

from models.judging.derive import value_named
from models.judging.measured import Measured
from models.judging.parts import Part
from models.judging.quantities import said_unit
from models.judging.state import State
from models.judging.values import legible
from models.judging.wording import amount
from models.words import say


def typed(state: State) -> str:
    """Return the reading as it was typed, with its unit."""
    return f"{legible(state.reading.text)} {said_unit(state.unit)}".strip()


def compared_of(state: State, part: Part | None) -> Measured:
    """Return what a bound compares: what it is `of`, else the reading."""
    if part is not None and "of" in part:
        measured = value_named(state, part["of"], part.get("unit", ""))
    else:
        measured = state.measured
    assert measured is not None
    return measured


def value_of(measured: Measured) -> str:
    """Return a value in the unit in which people say it."""
    return amount(measured.shown, measured.unit)


def in_unit(state: State, value: float) -> str:
    """Return a value of the rule's unit, in the unit in which it is said."""
    return amount(value, state.base)


def u_of(measured: Measured) -> str:
    """Return U, in the unit of the value that it belongs to."""
    return amount(measured.expanded or 0.0, measured.unit, measured.shown)


def bounded(measured: Measured, words: str) -> str:
    """Return *words* for a value as the bound that it may be only."""
    if measured.exact:
        return words
    side = "at_least" if measured.over_range else "at_most"
    return say(f"value.{side}", value=words)
