"""The ranges of an instrument as rows and as values."""

from collections.abc import Sequence
from uuid import UUID

from models.record.instrument import Range
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
