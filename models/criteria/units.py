"""The units in which published tables print, and how people write them."""

from collections.abc import Mapping

# Of a table: its columns or rows differ. Of a column: each row names its own unit.
MIXED = "mixed"

SAID: Mapping[str, str] = {
    "1": "",
    "%": "%",
    "% vol": "% by volume",
    "%/year": "% per year",
    "1/K": "1/K",
    "A": "A",
    "A/Pa": "A/Pa",
    "J/(kg K)": "J/(kg K)",
    "Hz": "Hz",
    "K": "K",
    "MHz": "MHz",
    "MOhm": "MΩ",
    "MOhm/kV": "MΩ per kV",
    "Ohm": "Ω",
    "Ohm/1000 ft": "Ω per 1000 ft",
    "Pa": "Pa",
    "Pa m3/s": "Pa·m³/s",
    "V": "V",
    "VA": "VA",
    "arcmin": "minutes of arc",
    "cycle": "cycles",
    "dBmV": "dBmV",
    "dBuV": "dBµV",
    "deg": "°",
    "degC": "°C",
    "h": "h",
    "in": "in",
    "kA": "kA",
    "kV": "kV",
    "kV/mm": "kV per mm",
    "kPa": "kPa",
    "kg/m3": "kg/m³",
    "lb-ft": "lb-ft",
    "m": "m",
    "m3/kg": "m³/kg",
    "mA": "mA",
    "mg/kg": "mg/kg",
    "mg/m3": "mg/m³",
    "min": "min",
    "ms": "ms",
    "ppmv": "ppm by volume",
    "s": "s",
    "uOhm": "µΩ",
    "year": "years",
}

# What a column's name ends in fixes its unit: nobody reads kV as V.
BY_SUFFIX: Mapping[str, str] = {
    "_a": "A",
    "_arcmin": "arcmin",
    "_c": "degC",
    "_cycles": "cycle",
    "_in": "in",
    "_ka": "kA",
    "_kpa": "kPa",
    "_kv": "kV",
    "_m": "m",
    "_ma": "mA",
    "_ms": "ms",
    "_ohm": "Ohm",
    "_pa": "Pa",
    "_pct": "%",
    "_ppmv": "ppmv",
    "_s": "s",
    "_uohm": "uOhm",
    "_v": "V",
    "_va": "VA",
    "_years": "year",
}


def suffix_unit(name: str) -> str | None:
    """Return the unit that the end of a column's name fixes; None: it fixes none."""
    _, _, last = name.rpartition("_")
    return BY_SUFFIX.get(f"_{last}") if "_" in name else None
