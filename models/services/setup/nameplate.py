"""Nameplates: which fields an apparatus or a lineup has, and how they are said."""

from collections.abc import Iterable
from typing import Any

from models.procedures import PROCEDURES, Subject
from models.schema import Apparatus, GivenCriterion, Lineup
from models.services.criteria.given_in_force import given_for

GEAR_NAMES = {
    "metal_enclosed": "metal-enclosed, fused load-break switches",
    "metal_clad": "metal-clad, draw-out vacuum breakers",
    "gas_insulated": "gas-insulated, three-position switches",
}

# key on the nameplate -> (how it is said, unit)
FIELDS: dict[str, tuple[str, str]] = {
    "type": ("Type", ""),
    "serial": ("Serial number", ""),
    "built_year": ("Year built", ""),
    "rated_kv": ("Rated maximum voltage", "kV"),
    "rated_withstand_kv": ("Rated power-frequency withstand", "kV"),
    "rated_impulse_kv": ("Rated impulse withstand", "kV"),
    "rated_a": ("Rated continuous current", "A"),
    "rated_ka": ("Rated short-time withstand current", "kA"),
    "rated_s": ("Rated duration of short circuit", "s"),
    "rated_hz": ("Rated frequency", "Hz"),
    "level_ac_kv": ("Field test level given, ac", "kV"),
    "level_dc_kv": ("Field test level given, dc", "kV"),
    "altitude_m": ("Altitude of the site", "m"),
    "insulation": ("Insulation", ""),
    "conductor": ("Conductor", ""),
    "contact_limit_uohm": ("Maker's contact resistance limit", "µΩ"),
    "vacuum_ac_kv": ("Maker's vacuum test level, ac", "kV"),
    "vacuum_dc_kv": ("Maker's vacuum test level, dc", "kV"),
    "vacuum_limit_pa": ("Maker's vacuum pressure limit", "Pa"),
    "gas_fill_kpa": ("Gas fill at 20 °C, absolute", "kPa"),
    "fuse_a": ("Fuse rating", "A"),
    "ratio": ("Ratio", ""),
    "element": ("Element", ""),
    "curve": ("Curve", ""),
    "pickup_a": ("Pickup, primary", "A"),
    "time_dial": ("Time dial", ""),
    "tolerance_pct": ("Declared tolerance", "%"),
    "tolerance_s": ("Declared tolerance, fixed part", "s"),
    "bands": ("Assigned-error bands by multiple", ""),
    "ceiling_multiple": ("Curve flat above", "× pickup"),
    "minimum_time_s": ("Minimum operating time", "s"),
    "pickup_error_pct": ("Declared error of pickup", "%"),
    "current_error_pct": ("Error of the injected current", "%"),
    "timed_against": ("Timing judged against", ""),
    "multiples": ("Test multiples of pickup", ""),
}


# Fields of a lineup that hold for the apparatus in it as well.
LINEUP_FIELDS = (
    "gear",
    "rated_kv",
    "rated_withstand_kv",
    "level_ac_kv",
    "level_dc_kv",
)
WORDS = {"iec_60255_151": "IEC 60255-151"}


def said(value: Any) -> str:
    """Return a nameplate value as people write it."""
    if isinstance(value, str) and value in WORDS:
        return WORDS[value]
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, list):
        return ", ".join(said(item) for item in value)
    return str(value).replace("_", " ")


def nameplate_lines(nameplate: dict[str, Any]) -> list[tuple[str, str]]:
    """Return (label, value with unit) for each field that is given."""
    lines = []
    for key, value in nameplate.items():
        if value is None or value == "":
            continue
        label, unit = FIELDS.get(key, (key.replace("_", " "), ""))
        lines.append((label, f"{said(value)} {unit}".strip()))
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

    It holds what the procedure rests on: the apparatus's nameplate goes before the
    lineup's; *given* are the criteria
    that hold on the lineup.
    """
    lineup_s = {name: getattr(lineup, name) for name in LINEUP_FIELDS}
    known = {**lineup_s, **apparatus.nameplate}
    fields = {name: known.get(name) for name in PROCEDURES[procedure].rests_on}
    return Subject(**fields, given=given_for(given, apparatus, procedure))
