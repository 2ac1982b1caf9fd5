"""Nameplates: which fields an apparatus or a lineup has, and how they are said."""

from collections.abc import Iterable
from typing import Any

from models.fields import Kind, field, find_field
from models.procedures import PROCEDURES, Subject
from models.procedures.plates import LINEUP, plate_fields
from models.schema import Apparatus, GivenCriterion, Lineup
from models.services.criteria.given_in_force import given_for

GEAR_NAMES = {gear: field("gear").choice_words(gear) for gear in field("gear").choices}

# The fields of a lineup's own nameplate, in the order in which they are shown.
LINEUP_PLATE = tuple(one.name for one in plate_fields(LINEUP))


def said(name: str, value: Any) -> str:
    """Return the value of the nameplate field *name* as people write it."""
    if isinstance(value, list):
        return ", ".join(said(name, item) for item in value)
    if isinstance(value, float):
        return f"{value:g}"
    about = find_field(name)
    if about is not None and isinstance(value, str) and about.kind is not Kind.TEXT:
        return about.choice_words(value)
    return str(value).replace("_", " ")


def nameplate_lines(nameplate: dict[str, Any]) -> list[tuple[str, str]]:
    """Return (label, value with unit) for each field that is given."""
    lines = []
    for key, value in nameplate.items():
        if value is None or value == "":
            continue
        about = find_field(key)
        label = about.label if about else key.replace("_", " ")
        unit = about.said_unit if about else ""
        lines.append((label, f"{said(key, value)} {unit}".strip()))
    return lines


def lineup_plate(lineup: Lineup) -> dict[str, Any]:
    """Return what is known of the lineup's own nameplate, by field."""
    return {
        name: value
        for name in LINEUP_PLATE
        if (value := getattr(lineup, name)) is not None
    }


def lineup_nameplate(lineup: Lineup) -> list[tuple[str, str]]:
    """Return the lineup's ratings as (label, value with unit)."""
    return [("Gear", GEAR_NAMES[lineup.gear]), *nameplate_lines(lineup_plate(lineup))]


def ratings_line(lineup: Lineup) -> str:
    """Return the ratings in one line, as under an elevation."""
    parts = [f"Rated {lineup.rated_kv:g} kV"]
    if lineup.rated_impulse_kv:
        parts.append(f"{lineup.rated_impulse_kv:g} kV impulse")
    if lineup.rated_withstand_kv:
        parts.append(f"{lineup.rated_withstand_kv:g} kV power frequency")
    if lineup.rated_ka and lineup.rated_s:
        parts.append(f"{lineup.rated_ka:g} kA {lineup.rated_s:g} s")
    if lineup.rated_hz:
        parts.append(f"{lineup.rated_hz:g} Hz")
    return " · ".join(parts)


def subject_of(
    lineup: Lineup,
    apparatus: Apparatus,
    procedure: str,
    given: Iterable[GivenCriterion],
) -> Subject:
    """Return what a rule for *procedure* on *apparatus* is compiled from.

    It holds what the procedure rests on: the apparatus's nameplate goes before the
    lineup's, and that before what the site chose; *given* are the criteria that hold
    on the lineup.
    """
    lineup_s = {name: getattr(lineup, name) for name in ("gear", *LINEUP_PLATE)}
    site_s = {"contact_correction": lineup.site.contact_correction}
    known = {**site_s, **lineup_s, **apparatus.nameplate}
    fields = {name: known.get(name) for name in PROCEDURES[procedure].rests_on}
    return Subject(**fields, given=given_for(given, apparatus, procedure))
