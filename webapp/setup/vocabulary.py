"""What the editor has to know: fields, kinds, symbols, starting points."""

from functools import cache
from typing import Any

from models.fields import Field, field, field_for_tablet
from models.fields.row import LONGEST_TEXT
from models.fields.units import CYCLES, UNITS, ZERO_AT, said
from models.procedures.plates import (
    GROUPS,
    LINEUP,
    apparatus_kinds,
    cell_kinds,
    plate_fields,
    plate_groups,
)
from models.services.setup.nameplate import GEAR_NAMES
from models.services.setup.starting_points import (
    Point,
    holds_of,
    likely_cells,
    points,
    rated_rows,
    tag_of,
)
from webapp.drawing.symbols import symbols

GEARS = tuple(GEAR_NAMES)
DIFFERS = "Where it differs from the lineup"
# What apparatus have from their lineup where their own plate says nothing else.
OF_THE_LINEUP = {
    "rated_kv",
    "rated_withstand_kv",
    "rated_impulse_kv",
    "rated_hz",
    "altitude_m",
    "level_ac_kv",
    "level_dc_kv",
}


@cache
def vocabulary() -> dict[str, Any]:
    """Return it as plain JSON; it is the same for everybody."""
    kinds = [LINEUP, *apparatus_kinds()]
    groups = {kind: plate_groups(kind) for kind in kinds}
    named = {
        one.name for held in groups.values() for row in held.values() for one in row
    }
    return {
        "fields": {name: _field(field(name)) for name in sorted(named)},
        "plates": {kind: plate_parts(kind) for kind in kinds},
        "kinds": {
            name: {"label": kind.label, "tag": tag_of(name)}
            for name, kind in apparatus_kinds().items()
        },
        "cells": {
            name: {
                "words": words,
                "holds": [{"kind": h.kind, "label": h.label} for h in holds_of(name)],
            }
            for name, words in cell_kinds().items()
        },
        "gears": {gear: _gear(gear) for gear in GEARS},
        "points": [_point(one) for one in points()],
    }


def plate_parts(kind: str) -> list[dict[str, Any]]:
    """Return the groups of a plate's fields: key, title, names of fields.

    What an apparatus mostly has from its lineup is a group of its own, at the end.
    """
    own = {} if kind == LINEUP else OF_THE_LINEUP
    parts = [
        {
            "key": key,
            "title": GROUPS[key],
            "fields": [one.name for one in row if one.name not in own],
        }
        for key, row in plate_groups(kind).items()
    ]
    shared = [one.name for one in plate_fields(kind) if one.name in own]
    if shared:
        parts.append({"key": "lineup", "title": DIFFERS, "fields": shared})
    return parts


def _gear(gear: str) -> dict[str, Any]:
    rows = [
        {
            "key": row.key,
            "document": row.document,
            "words": row.words,
            "source": row.source,
            "recalled": row.recalled,
            "ratings": {
                "rated_kv": row.rated_kv,
                "rated_withstand_kv": row.rated_withstand_kv,
                "rated_impulse_kv": row.rated_impulse_kv,
            },
        }
        for row in rated_rows(gear)
    ]
    return {
        "words": GEAR_NAMES[gear],
        "likely": list(likely_cells(gear)),
        "symbols": symbols(gear),
        "rows": rows,
    }


def _point(one: Point) -> dict[str, Any]:
    about = one.repeated
    return {
        "key": one.key,
        "title": one.title,
        "about": one.about,
        "gear": one.gear,
        "repeated": {
            "label": about.label,
            "least": about.least,
            "greatest": about.greatest,
            "usual": about.usual,
        },
    }


def _field(about: Field) -> dict[str, Any]:
    return {
        **field_for_tablet(about),
        "hint": about.hint,
        "many": about.many,
        "longest": LONGEST_TEXT,
        "reads": _reads(about),
    }


def _reads(about: Field) -> list[dict[str, Any]]:
    """Return the units that a field is read in, with what converts to its own.

    The value is `(typed - zero) * times / over + zero_to`; cycles are divided by the
    frequency besides.
    """
    own = UNITS.get(about.unit)
    if own is None:
        return []
    return [
        {
            "name": unit,
            "said": said(unit),
            "times": UNITS[unit].times * own.over,
            "over": UNITS[unit].over * own.times,
            "zero": ZERO_AT.get(unit, 0.0),
            "zero_to": ZERO_AT.get(about.unit, 0.0),
            "cycles": unit == CYCLES,
        }
        for unit in (about.unit, *about.read)
    ]
