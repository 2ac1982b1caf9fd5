"""Whether an instrument can have taken a reading, by what the register says of it."""

from collections.abc import Mapping
from typing import Any

from models.judging import Interval
from models.judging.quantities import convert
from models.record.instrument import READING_UNIT, Able, beyond
from models.schema import Instrument

CONDITION = "instrument_limit"  # set by the program, never sent


def limit_condition(
    instrument: Instrument,
    conditions: Mapping[str, Any],
    value: object,
    unit: str | None,
) -> dict[str, str]:
    """Return the condition that says what was beyond the instrument; {} for nothing."""
    greatest = instrument.greatest or {}
    supplies = instrument.supplies
    able = Able(
        supplies=None if supplies is None else tuple(supplies), greatest=greatest
    )
    found = beyond(able, conditions, _read(value, unit, greatest.get(READING_UNIT)))
    return {CONDITION: found} if found else {}


def _read(value: object, unit: str | None, to: str | None) -> float | None:
    """Return the least that was read, in the instrument's unit."""
    if not isinstance(value, Interval) or value.low is None or not (unit and to):
        return None
    return convert(value.low, unit, to)
