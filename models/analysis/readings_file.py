"""Readings files: a header row, one reading a row; what their columns may hold.

The columns are described in docs/readings-file.md.
"""

from collections.abc import Mapping

from models.errors import Fault, InputError
from models.fields import Kind, Role, fields, narrowed, read_value
from models.procedures import PROCEDURES

OF_THE_FILE = ("id", "test", "value", "unit", "group", "point")
FIELDS = {one.name: one for one in fields("column")}
COLUMNS = (*OF_THE_FILE, *FIELDS)
MOST_UNKNOWN = 50  # columns named one by one: who has more sends another file
REQUIRED = ("id", "test", "value")
NUMBERS = tuple(name for name, one in FIELDS.items() if one.kind is Kind.NUMBER)


def _asked(name: str) -> tuple[str, ...]:
    """Return the choices of a field that a procedure asks for; else all it has."""
    asks = [ask for one in PROCEDURES.values() for ask in one.asks]
    asked = {choice for a in asks if a["name"] == name for choice in a["choices"]}
    return tuple(c for c in FIELDS[name].choices if c in asked or not asked)


CHOICES: Mapping[str, tuple[str, ...]] = {
    "test": tuple(PROCEDURES),
    **{n: _asked(n) for n, one in FIELDS.items() if one.kind is Kind.CHOICE},
}
_CONDITIONS = {name for name, one in FIELDS.items() if Role.CONDITION in one.roles}
CONDITIONS = _CONDITIONS & set(NUMBERS)
WORDS = tuple(name for name in CHOICES if name in _CONDITIONS)
# What a rule is compiled from, besides the unit of a limit: rows that have these in
# common share a rule.
SUBJECT_COLUMNS: Mapping[str, tuple[str, ...]] = {
    name: tuple(
        column
        for column in COLUMNS
        if column in (*one.rests_on, *one.columns, one.chosen_by)
    )
    for name, one in PROCEDURES.items()
}
MOST_FAULTS = 1000  # listed; a file with more is of another kind altogether


def number_in(name: str, text: str) -> float:
    """Return what the column *name* holds; InputError for what it may not hold."""
    return float(read_value(FIELDS[name], text))


def choice_in(name: str, text: str) -> str:
    """Return the word that the column *name* holds; InputError names those it may."""
    if name != "test":
        return str(read_value(narrowed(name, CHOICES[name]), text))
    if text not in PROCEDURES:
        known = ", ".join(PROCEDURES)
        raise InputError(Fault(field=name, message=f"'{text}' is none of {known}."))
    return text
