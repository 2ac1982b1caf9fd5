"""Whether what was typed can be a reading of a procedure at all."""

from collections.abc import Sequence
from typing import Protocol

from models.errors import Fault, InputError
from models.judging.quantities import said_unit, unit_name
from models.judging.values import Interval, Outcome, parse_value

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


def check_reading(procedure: Readable, text: str, unit: str | None) -> Checked:
    """Return the value and the unit's name.

    Raises InputError with the field (value or unit) and the remedy: not a
    number, a unit that does not fit, a negative reading, an outcome that this
    test does not have.
    """
    value = parse_value(text)
    if isinstance(value, Outcome):
        if value not in procedure.outcomes:
            raise _fault("value", _not_an_outcome(procedure, value))
        return value, None
    if not procedure.units:
        outcomes = " or ".join(procedure.outcomes)
        raise _fault("value", f"{procedure.title} has no number: enter {outcomes}.")
    name = unit_name(unit or "")
    if name not in procedure.units:
        fitting = ", ".join(said_unit(u) for u in procedure.units)
        wrong = f"'{unit}' does not fit" if unit else "No unit is given for"
        raise _fault("unit", f"{wrong} {procedure.title.lower()}: use {fitting}.")
    if value.bound < 0:
        raise _fault(
            "value",
            f"{procedure.title} cannot be negative: check the sign and the leads.",
        )
    return value, name


def _not_an_outcome(procedure: Readable, value: Outcome) -> str:
    if not procedure.outcomes:
        return f"'{value}' does not fit {procedure.title.lower()}: enter a number."
    return (
        f"'{value}' does not fit {procedure.title.lower()}: "
        f"enter {' or '.join(procedure.outcomes)}"
        + (" or a number." if procedure.units else ".")
    )


def _fault(field: str, message: str) -> InputError:
    return InputError(Fault(field=field, message=message))
