"""What an instrument can do, and whether a reading asks more of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

SUPPLIES = ("ac", "dc")
# Conditions that name the supply: of a withstand, and of a vacuum gap's test.
NAMES_SUPPLY = ("supply", "method")
READING, READING_UNIT = "reading", "reading_unit"


@dataclass(frozen=True, slots=True, kw_only=True)
class Able:
    """The supplies an instrument has, and the most it does or shows.

    *greatest* is by condition (`test_kv`) and by `reading`, with `reading_unit`;
    what is not said is not judged.
    """

    supplies: tuple[str, ...] | None
    greatest: Mapping[str, Any]


def beyond(
    able: Able, conditions: Mapping[str, Any], reading: float | None
) -> str | None:
    """Return what an instrument cannot have done: supply, level, reading; or None.

    *reading* is the least that was read, in the instrument's `reading_unit`.
    """
    if able.supplies is not None and _other_supply(able.supplies, conditions):
        return "supply"
    for name, most in able.greatest.items():
        value = conditions.get(name)
        if isinstance(value, int | float) and value > most:
            return "level"
    most = able.greatest.get(READING)
    if most is not None and reading is not None and reading > most:
        return READING
    return None


def _other_supply(supplies: tuple[str, ...], conditions: Mapping[str, Any]) -> bool:
    asked = [conditions.get(name) for name in NAMES_SUPPLY]
    return any(one in SUPPLIES and one not in supplies for one in asked)
