"""The ranges of an instrument as rows and as values."""

from collections.abc import Mapping, Sequence
from typing import Any
from uuid import UUID

from models.procedures import PROCEDURES
from models.record.instrument import Range, why_not
from models.schema import Instrument, InstrumentRange


def ranges_of(instrument: Instrument) -> list[Range]:
    """Return the ranges of a registered instrument, in their order."""
    names = Range.__slots__
    return [
        Range(**{name: getattr(row, name) for name in names})
        for row in instrument.ranges
    ]


def rows_of(instrument_id: UUID, ranges: Sequence[Range]) -> list[InstrumentRange]:
    """Return the rows that hold the ranges."""
    return [
        InstrumentRange(instrument_id=instrument_id, position=at, **one.as_json())
        for at, one in enumerate(ranges, start=1)
    ]


def unfit_for(
    instrument: Instrument, procedure: str, conditions: Mapping[str, Any]
) -> str | None:
    """Return in words why an instrument does not fit a card; None where it does.

    *conditions*: what the card will be tested under, as far as that is known.
    """
    about = PROCEDURES[procedure]
    return why_not(
        ranges_of(instrument),
        instrument.procedures,
        procedure=procedure,
        units=about.units,
        outcomes=tuple(about.outcomes),
        conditions=conditions,
    )
