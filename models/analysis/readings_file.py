"""Readings files: a header row, one reading a row; what their columns may hold.

The columns are described in docs/readings-file.md.
"""

from collections.abc import Mapping

from models.errors import Fault, InputError
from models.fields import FIELDS as TABLE
from models.fields import Kind, Role, narrowed, read_value
from models.fields.row import Field
from models.fields.values import YES_NO
from models.judging.series import parse_series, series_text
from models.procedures import PROCEDURES

OF_THE_FILE = ("id", "test", "value", "unit", "group", "point")
SERIES = {row.name for one in PROCEDURES.values() for row in one.series}
ASKED = {ask["name"] for one in PROCEDURES.values() for ask in one.asks}
RESTED_ON = {name for one in PROCEDURES.values() for name in one.rests_on}


def _is_column(one: Field) -> bool:
    """Whether a field has a column: every one that judges some procedure has."""
    used = one.name in ASKED | RESTED_ON | SERIES
    return (Role.COLUMN in one.roles or used) and not (one.many or one.begins)


FIELDS = {name: one for name, one in TABLE.items() if _is_column(one)}
COLUMNS = (*OF_THE_FILE, *FIELDS, *sorted(SERIES - set(FIELDS)))
MOST_UNKNOWN = 50  # columns named one by one: who has more sends another file
REQUIRED = ("id", "test", "value")
NUMBERS = tuple(name for name, one in FIELDS.items() if one.kind is Kind.NUMBER)


# Texts that judge: rows of readings, and what is written on a nameplate.
TEXTS = (
    *sorted(SERIES),
    *(
        name
        for name, one in FIELDS.items()
        if one.kind is Kind.TEXT and name in ASKED | RESTED_ON
    ),
)


def _asked(name: str) -> tuple[str, ...]:
    """Return the choices of a field that a procedure asks for; else all it has."""
    asks = [ask for one in PROCEDURES.values() for ask in one.asks]
    asked = {choice for a in asks if a["name"] == name for choice in a["choices"]}
    return tuple(c for c in FIELDS[name].choices if c in asked or not asked)


CHOICES: Mapping[str, tuple[str, ...]] = {
    "test": tuple(PROCEDURES),
    **{n: _asked(n) for n, one in FIELDS.items() if one.kind is Kind.CHOICE},
    **{n: tuple(YES_NO) for n, one in FIELDS.items() if one.kind is Kind.YES_NO},
}
_CONDITIONS = {
    name for name, one in FIELDS.items() if Role.CONDITION in one.roles or name in ASKED
}
CONDITIONS = _CONDITIONS & set(NUMBERS)
WORDS = tuple(name for name in CHOICES if name in _CONDITIONS)
SAID = tuple(name for name in TEXTS if name in _CONDITIONS | SERIES)
# What a rule is compiled from, besides the unit of a limit: rows that have these in
# common share a rule.
SUBJECT_COLUMNS: Mapping[str, tuple[str, ...]] = {
    name: tuple(
        column
        for column in COLUMNS
        if column in (*one.rests_on, *one.columns, one.chosen_by)
        and column not in SERIES
    )
    for name, one in PROCEDURES.items()
}
FLAGS = {name for name, one in FIELDS.items() if one.kind is Kind.YES_NO}
MOST_FAULTS = 1000  # listed; a file with more is of another kind altogether


def number_in(name: str, text: str) -> float:
    """Return what the column *name* holds; InputError for what it may not hold."""
    return float(read_value(FIELDS[name], text))


def text_in(name: str, text: str) -> str:
    """Return what a column of texts holds; InputError for no row of readings."""
    if name in SERIES:
        return series_text(parse_series(name, text))
    return str(read_value(FIELDS[name], text))


def choice_in(name: str, text: str) -> str:
    """Return the word that the column *name* holds; InputError names those it may."""
    if name != "test":
        read_value(narrowed(name, CHOICES[name] if name not in FLAGS else ()), text)
        return text
    if text not in PROCEDURES:
        known = ", ".join(PROCEDURES)
        raise InputError(Fault(field=name, message=f"'{text}' is none of {known}."))
    return text
