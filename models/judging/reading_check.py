"""Whether what was typed can be a reading of a procedure at all."""

from collections.abc import Sequence
from functools import reduce
from typing import Protocol

from models.errors import Fault, InputError
from models.judging.quantities import said_unit, unit_name
from models.judging.values import Interval, Outcome, parse_value
from models.words import in_sentence, say

Checked = tuple[Interval | Outcome, str | None]  # what was typed, its unit's name


class Readable(Protocol):
    """What must be known of a procedure: how it is called, what is typed for it."""

    @property
    def title(self) -> str:
        """Return how it is called."""

    @property
    def units(self) -> Sequence[str]:
        """Return the units in which a number may be entered; none: outcomes only."""

    @property
    def outcomes(self) -> Sequence[str]:
        """Return the outcomes that it has."""

    @property
    def signed(self) -> bool:
        """Return whether a reading may lie below zero."""


def check_reading(procedure: Readable, text: str, unit: str | None) -> Checked:
    """Return the value and the unit's name.

    Raises InputError with the field (value or unit) and the remedy: not a
    number, a unit that does not fit, a negative reading, an outcome that this
    test does not have.
    """
    value = parse_value(text)
    if isinstance(value, Outcome):
        if value not in procedure.outcomes:
            raise _fault("value", _no_outcome(procedure, value))
        return value, None
    if not procedure.units:
        outcomes = one_of(procedure.outcomes)
        message = say(
            "fault.outcomes_only", procedure=procedure.title, outcomes=outcomes
        )
        raise _fault("value", message)
    name = unit_name(unit or "")
    if name not in procedure.units:
        raise _fault("unit", _no_unit(procedure, unit))
    if value.bound < 0 and not procedure.signed:
        raise _fault("value", say("fault.negative", procedure=procedure.title))
    return value, name


def _no_unit(procedure: Readable, unit: str | None) -> str:
    return say(
        "fault.unit" if unit else "fault.no_unit",
        unit=unit or "",
        procedure=in_sentence(procedure.title),
        units=", ".join(map(said_unit, procedure.units)),
    )


def _no_outcome(procedure: Readable, outcome: Outcome) -> str:
    parts = {"outcome": str(outcome), "procedure": in_sentence(procedure.title)}
    if not procedure.outcomes:
        return say("fault.no_outcome", **parts)
    or_number = "_or_number" if procedure.units else ""
    outcomes = one_of(procedure.outcomes)
    return say(f"fault.other_outcome{or_number}", outcomes=outcomes, **parts)


def one_of(words: Sequence[str]) -> str:
    """Return words of which one is to be chosen: `held or broke_down`."""
    return reduce(
        lambda first, second: say("list.or", first=first, second=second), words
    )


def _fault(field: str, message: str) -> InputError:
    return InputError(Fault(field=field, message=message))
