"""Nameplates: which fields an apparatus or a lineup has, and how they are said."""

from collections.abc import Iterable
from typing import Any

from models.fields import Kind, field, find_field
from models.judging import Subject
from models.schema import Apparatus, GivenCriterion, Lineup
from models.services.criteria.given_in_force import given_for

GEAR_NAMES = {gear: field("gear").choice_words(gear) for gear in field("gear").choices}


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


def lineup_nameplate(lineup: Lineup) -> list[tuple[str, str]]:
    """Return the lineup's ratings as (label, value with unit)."""
    keys = (
        "serial",
        "built_year",
        "rated_kv",
        "rated_impulse_kv",
        "rated_withstand_kv",
        "rated_a",
        "rated_ka",
        "rated_s",
        "rated_hz",
        "level_ac_kv",
        "level_dc_kv",
    )
    gear = [("Gear", GEAR_NAMES[lineup.gear])]
    return gear + nameplate_lines({key: getattr(lineup, key) for key in keys})


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

    The apparatus's nameplate goes before the lineup's; *given* are the criteria
    that hold on the lineup.
    """
    plate = apparatus.nameplate
    limit, unit = None, None
    if procedure == "contact_resistance" and plate.get("contact_limit_uohm"):
        limit, unit = plate["contact_limit_uohm"], "uOhm"
    if procedure == "vacuum_integrity" and plate.get("vacuum_limit_pa"):
        limit, unit = plate["vacuum_limit_pa"], "Pa"
    vacuum = procedure == "vacuum_integrity"
    return Subject(
        gear=lineup.gear,
        rated_kv=plate.get("rated_kv", lineup.rated_kv),
        rated_withstand_kv=plate.get("rated_withstand_kv", lineup.rated_withstand_kv),
        insulation=plate.get("insulation"),
        conductor=plate.get("conductor"),
        limit=limit,
        limit_unit=unit,
        level_ac_kv=plate.get("vacuum_ac_kv") if vacuum else lineup.level_ac_kv,
        level_dc_kv=plate.get("vacuum_dc_kv") if vacuum else lineup.level_dc_kv,
        curve=plate.get("curve"),
        pickup_a=plate.get("pickup_a"),
        time_dial=plate.get("time_dial"),
        tolerance_pct=plate.get("tolerance_pct"),
        tolerance_s=plate.get("tolerance_s"),
        altitude_m=plate.get("altitude_m"),
        bands=plate.get("bands"),
        ceiling_multiple=plate.get("ceiling_multiple"),
        minimum_time_s=plate.get("minimum_time_s"),
        pickup_error_pct=plate.get("pickup_error_pct"),
        current_error_pct=plate.get("current_error_pct"),
        timed_against=plate.get("timed_against"),
        given=given_for(given, apparatus, procedure),
    )
