"""What an instrument can do, and whether a reading asks more of it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from models.fields import find_field
from models.judging.near import at_least
from models.judging.quantities import UNITS, convert, unit_name
from models.words import say

SUPPLIES = ("ac", "dc")
READS, APPLIES = "reads", "applies"
DOES = (READS, APPLIES)
# Conditions that name the supply: of a withstand, and of a vacuum gap's test.
NAMES_SUPPLY = ("supply", "method")
# Conditions that the instrument itself brings about. A relay's currents are stated on
# the primary base of its pickup, a coil's voltage is the station's (common practice).
APPLIED = (
    "test_kv",
    "test_v",
    "test_current_a",
    "applied_v",
    "injected_a",
    "injected_v",
)
PARTS = ("pct_reading", "pct_range", "digits", "resolution", "fixed")
Beyond = Literal["supply", "level", "reading"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """A range that an instrument reads or applies; fields as `InstrumentRange`."""

    does: str = READS
    unit: str | None = None
    supply: str | None = None
    low: float | None = None
    high: float | None = None
    pct_reading: float | None = None
    pct_range: float | None = None
    digits: float | None = None
    resolution: float | None = None
    fixed: float | None = None

    @property
    def stated(self) -> bool:
        """Whether an accuracy is stated."""
        return any(getattr(self, name) is not None for name in PARTS)

    @property
    def quantity(self) -> str | None:
        """The quantity that it is of; None: that of whatever is read."""
        return UNITS[self.unit].quantity if self.unit else None

    def as_json(self) -> dict[str, Any]:
        """Return the range as plain values."""
        return {name: getattr(self, name) for name in self.__slots__}


def accuracy_of(
    ranges: Sequence[Range], unit: str | None, supply: str | None = None
) -> dict[str, Any]:
    """Return what is stated of readings in *unit*, as a reading keeps it.

    `{pct, fixed, unit}` where it is the same for all it shows, else `{ranges: [...]}`;
    {} where nothing is stated.
    """
    reading = [one for one in reading_ranges(ranges, unit, supply) if one.stated]
    if not reading:
        return {}
    if reading[0].high is None:
        one = reading[0]
        fixed = (one.fixed or 0.0) + (one.digits or 0.0) * (one.resolution or 0.0)
        return {"pct": one.pct_reading or 0.0, "fixed": fixed, "unit": one.unit}
    return {"ranges": [_accuracy_range(one) for one in reading]}


def _accuracy_range(one: Range) -> dict[str, Any]:
    return {
        "low": one.low,
        "high": one.high,
        "unit": one.unit,
        "pct": one.pct_reading or 0.0,
        **{name: getattr(one, name) or 0.0 for name in PARTS[1:]},
    }


def reading_ranges(
    ranges: Iterable[Range], unit: str | None, supply: str | None = None
) -> list[Range]:
    """Return the ranges that show a value in *unit*, of a supply where one is named."""
    quantity = UNITS[unit].quantity if unit else None
    return [
        one
        for one in ranges
        if one.does == READS
        and one.quantity in (None, quantity)
        and (supply is None or one.supply in (None, supply))
    ]


def beyond(
    ranges: Sequence[Range],
    conditions: Mapping[str, Any],
    reading: float | None = None,
    unit: str | None = None,
) -> Beyond | None:
    """Return what an instrument cannot have done: supply, level, reading; or None.

    *reading* in *unit* is the least that was read. What is not said is not judged.
    """
    supply = supply_of(conditions)
    applies = [one for one in ranges if one.does == APPLIES]
    supplies = {one.supply for one in applies}
    if supply and applies and None not in supplies and supply not in supplies:
        return "supply"
    if any(_level_beyond(applies, name, conditions, supply) for name in APPLIED):
        return "level"
    if reading is not None and unit is not None:
        shown = [o for o in reading_ranges(ranges, unit, supply) if o.unit]
        ends = [convert(o.high, o.unit, unit) for o in shown if o.high and o.unit]
        if ends and not at_least(max(ends), reading):
            return "reading"
    return None


def supply_of(conditions: Mapping[str, Any]) -> str | None:
    """Return the supply that the conditions name, or None."""
    asked = (conditions.get(name) for name in NAMES_SUPPLY)
    return next((str(one) for one in asked if one in SUPPLIES), None)


def _level_beyond(
    applies: Sequence[Range],
    name: str,
    conditions: Mapping[str, Any],
    supply: str | None,
) -> bool:
    """Return whether a condition is a level that none of the ranges reaches."""
    value, about = conditions.get(name), find_field(name)
    unit = unit_name(about.unit) if about and about.unit else None
    if unit is None or isinstance(value, bool) or not isinstance(value, int | float):
        return False
    level = float(value)
    own = [
        one
        for one in applies
        if one.quantity == UNITS[unit].quantity
        and (supply is None or one.supply in (None, supply))
    ]
    return bool(own) and not any(_reaches(one, level, unit) for one in own)


def _reaches(one: Range, level: float, unit: str) -> bool:
    if one.low is None or one.high is None or one.unit is None:
        return True
    here = convert(level, unit, one.unit)
    return at_least(here, one.low) and at_least(one.high, here)


def why_not(
    ranges: Sequence[Range],
    procedures: Sequence[str],
    *,
    procedure: str,
    units: Sequence[str],
    outcomes: Sequence[str],
    conditions: Mapping[str, Any],
) -> str | None:
    """Return in words why an instrument does not fit a card; None where it does.

    *units* and *outcomes* are those of the procedure's readings, *conditions* what the
    card will be tested under as far as that is known.
    """
    if procedure not in procedures:
        return say("unfit.procedure")
    reads = {one.quantity for one in ranges if one.does == READS}
    wanted = {UNITS[unit].quantity for unit in units}
    if reads and None not in reads and wanted and not outcomes and not reads & wanted:
        return say("unfit.quantity")
    found = beyond(ranges, conditions)
    return say(f"unfit.{found}") if found else None
