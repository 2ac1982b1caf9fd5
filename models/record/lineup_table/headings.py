"""Headings of the table, and the words of its choices."""

from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from typing import NamedTuple

from models.fields import FIELDS, Field, Kind
from models.fields.units import said
from models.procedures.plates import (
    LINEUP,
    apparatus_kinds,
    cell_kinds,
    plate_fields,
)

LINEUP_SHEET, TABLE_SHEET, WORDS_SHEET = "Lineup", "Apparatus", "Words"
REMARK = "#"  # a row that begins with it, and a blank, is passed over
ESCAPE = "\\"  # before a cell's number that would be taken for one

CELL, CELL_NAME, DRAWN_AS = "Cell", "Cell name", "Drawn as"
BUS, TIES_TO = "Bus section", "Ties to"
APPARATUS, LABEL = "Apparatus", "Label"
CELL_ID, APPARATUS_ID = "Cell id", "Apparatus id"
NAME, GEAR, SECTION = "Lineup", "Gear", "Bus section"
# What a cell says, in the words of the draft.
OF_THE_CELL = {
    CELL_NAME: "name",
    DRAWN_AS: "kind",
    BUS: "bus",
    TIES_TO: "tie_to",
    CELL_ID: "id",
}
OF_THE_APPARATUS = {APPARATUS: "kind", LABEL: "label", APPARATUS_ID: "id"}
FIRST = (CELL, CELL_NAME, DRAWN_AS, BUS, TIES_TO, APPARATUS, LABEL)
LAST = (CELL_ID, APPARATUS_ID)


def is_remark(text: str) -> bool:
    """Return whether a row whose first cell is *text* is passed over."""
    text = text.strip()
    return text == REMARK or text.startswith(f"{REMARK} ")


def marked(number: str) -> str:
    """Return a cell's number as the table writes it: it is no remark."""
    return ESCAPE + number if is_remark(number) or number[:1] == ESCAPE else number


def unmarked(text: str) -> str:
    """Return the number that `marked` was given."""
    return text.removeprefix(ESCAPE)


class FieldHeading(NamedTuple):
    """A field of a nameplate, and the unit in which a column or a line gives it."""

    field: Field
    unit: str | None  # None: the field has none, or its own is meant


def heading(one: Field) -> str:
    """Return how a field is headed: Rated maximum voltage (kV)."""
    return f"{one.label} ({one.said_unit})" if one.unit else one.label


def known_heading(text: str, *, lineup: bool = False) -> FieldHeading | str | None:
    """Return what a heading means: a field, a heading of ours, or nothing."""
    return _headings(lineup=lineup).get(_key(text))


def like(text: str, *, lineup: bool = False) -> str:
    """Return the heading that is most like *text*; empty: none is."""
    known = {_key(one): one for one in _written(lineup=lineup)}
    found = get_close_matches(_key(text), known, n=1, cutoff=0.7)
    return known[found[0]] if found else ""


@cache
def table_fields() -> tuple[Field, ...]:
    """Return every field that the nameplate of some apparatus has, in their order."""
    names = {one.name for kind in apparatus_kinds() for one in plate_fields(kind)}
    return tuple(one for one in FIELDS.values() if one.name in names)


@cache
def _headings(*, lineup: bool) -> Mapping[str, FieldHeading | str]:
    found: dict[str, FieldHeading | str] = {}
    for one in plate_fields(LINEUP) if lineup else table_fields():
        found[_key(one.name)] = FieldHeading(one, None)
        found[_key(one.label)] = FieldHeading(one, None)
        if one.unit:
            del found[_key(one.label)]  # what is meant is not known
        for unit in filter(None, (one.unit, *one.read)):
            for word in (one.label, one.name):
                for shown in (unit, said(unit)):
                    found[_key(f"{word} ({shown})")] = FieldHeading(one, unit)
    ours = (NAME, GEAR, SECTION) if lineup else (*FIRST, *LAST)
    return found | {_key(one): one for one in ours}


def _written(*, lineup: bool) -> list[str]:
    fields = plate_fields(LINEUP) if lineup else table_fields()
    ours = (NAME, GEAR, SECTION) if lineup else (*FIRST, *LAST)
    return [*ours, *map(heading, fields)]


def _key(text: str) -> str:
    return " ".join(text.replace("’", "'").split()).casefold()


def word_of(one: Field, value: str) -> str:
    """Return a choice as the table writes it."""
    return one.choice_words(value)


def choice_of(one: Field, text: str) -> str:
    """Return the choice that *text* names, by its name or its words; else *text*."""
    if one.kind is not Kind.CHOICE:
        return text
    named = {_key(one.choice_words(c)): c for c in one.choices}
    return named.get(_key(text)) or {_key(c): c for c in one.choices}.get(
        _key(text), text
    )


def kind_of(text: str) -> str:
    """Return the kind of apparatus that *text* names; else *text*."""
    named = {_key(kind.label): name for name, kind in apparatus_kinds().items()}
    return named.get(_key(text), text)


def symbol_of(text: str) -> str:
    """Return what a cell is drawn with, by its name or its words; else *text*."""
    return {_key(words): name for name, words in cell_kinds().items()}.get(
        _key(text), text
    )
