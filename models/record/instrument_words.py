"""What an instrument's ranges say, as people write it."""

from collections.abc import Callable, Iterable

from models.judging.quantities import said_unit
from models.judging.wording import plain
from models.record.instrument import READS, Range

NOT_GIVEN = "not given"
Units = Callable[[str | None], str]


def accuracy_words(ranges: Iterable[Range], unit: Units = said_unit) -> str:
    """Return what is stated of all that an instrument reads, range by range.

    *unit* gives a unit as it is to be written.
    """
    said = [
        f"{ends}: {stated}" if (ends := ends_words(one, unit)) else stated
        for one in ranges
        if one.does == READS and (stated := stated_words(one, unit))
    ]
    return "; ".join(said) or NOT_GIVEN


def ends_words(one: Range, unit: Units = said_unit) -> str:
    """Return from where to where a range goes: `0 to 200 MΩ dc`; "" where not said."""
    if one.low is None or one.high is None:
        return one.supply or ""
    ends = f"{plain(one.low)} to {plain(one.high)} {unit(one.unit)}"
    return f"{ends} {one.supply}" if one.supply else ends


def stated_words(one: Range, unit: Units = said_unit) -> str:
    """Return the accuracy of a range: `5 % of reading + 0.02 MΩ`; "" for none."""
    if not one.stated:
        return ""
    own = unit(one.unit)
    parts = [
        f"{plain(one.pct_reading)} % of reading" if one.pct_reading else "",
        f"{plain(one.pct_range)} % of range" if one.pct_range else "",
        f"{plain(one.digits)} x {plain(one.resolution or 0)} {own}"
        if one.digits
        else "",
        f"{plain(one.fixed)} {own}" if one.fixed else "",
    ]
    return " + ".join(part.strip() for part in parts if part) or "0 % of reading"
