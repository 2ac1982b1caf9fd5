"""Whether an instrument can have taken a reading, by what the register says of it."""

from collections.abc import Mapping
from typing import Any

from models.judging import Interval
from models.record.instrument import beyond
from models.schema import Instrument
from models.services.setup.instrument_ranges import ranges_of

CONDITION = "instrument_limit"  # set by the program, never sent


def limit_condition(
    instrument: Instrument,
    conditions: Mapping[str, Any],
    value: object,
    unit: str | None,
) -> dict[str, str]:
    """Return the condition that says what was beyond the instrument; {} for nothing."""
    least = value.low if isinstance(value, Interval) else None
    found = beyond(ranges_of(instrument), conditions, least, unit)
    return {CONDITION: found} if found else {}
