"""What an instrument reads and applies as one line of text, and back.

Reads: `0..10 GOhm: 5% + 0.02; 10..1000 GOhm: 10% + 3 digits of 0.1`, as the column
`accuracy` of a readings file; `GOhm: 5%` without ends, `0..200 V ac` without accuracy.
Applies: `0.25..5 kV dc; 10..200 A`.
"""

from collections.abc import Iterable

from models.errors import Fault, InputError
from models.judging import Accuracy, RangedAccuracy, parse_accuracy
from models.judging.quantities import unit_name
from models.judging.wording import plain
from models.record.instrument import APPLIES, READS, SUPPLIES, Range

HOW_READS = (
    "write for example 0..10 GOhm: 5% + 0.02; 10..1000 GOhm: 10% + 3 digits of 0.1"
)
HOW_APPLIES = "write for example 0.25..5 kV dc; 10..200 A"


def read_reads(text: str) -> list[Range]:
    """Return the ranges that are read; InputError, field `reads`, says the form."""
    return [_reads(piece) for piece in _pieces(text)]


def read_applies(text: str) -> list[Range]:
    """Return the ranges that are applied; InputError, field `applies`."""
    found = []
    for piece in _pieces(text):
        place, supply = _without_supply(piece)
        if unit := unit_name(place):
            found.append(Range(does=APPLIES, unit=unit, supply=supply))
            continue
        try:
            found.append(_with_ends(f"{place}: 0", does=APPLIES, supply=supply))
        except InputError as error:
            raise _fault(APPLIES, piece, HOW_APPLIES) from error
    return found


def reads_text(ranges: Iterable[Range]) -> str:
    """Return what `read_reads` reads."""
    return "; ".join(_reads_text(one) for one in ranges if one.does == READS)


def applies_text(ranges: Iterable[Range]) -> str:
    """Return what `read_applies` reads."""
    return "; ".join(_place(one) for one in ranges if one.does == APPLIES)


def _pieces(text: str) -> list[str]:
    return [piece.strip() for piece in text.split(";") if piece.strip()]


def _reads(piece: str) -> Range:
    place, colon, stated = piece.partition(":")
    place, supply = _without_supply(place)
    try:
        if ".." in place:
            given = _with_ends(f"{place}: {stated or 0}", does=READS, supply=supply)
            return given if colon else _bare(given)
        unit = unit_name(place)
        accuracy = parse_accuracy(stated)
    except InputError as error:
        raise _fault(READS, piece, HOW_READS) from error
    if unit is None or not isinstance(accuracy, Accuracy):
        raise _fault(READS, piece, HOW_READS)
    pct, fixed = accuracy.pct or None, accuracy.fixed or None
    return Range(unit=unit, supply=supply, pct_reading=pct, fixed=fixed)


def _with_ends(text: str, *, does: str, supply: str | None) -> Range:
    accuracy = parse_accuracy(text)
    if not isinstance(accuracy, RangedAccuracy) or not accuracy.ranges[0].unit:
        raise InputError(Fault(field=does, message="no range"))
    one = accuracy.ranges[0]
    parts = {"pct_range": one.pct_range, "digits": one.digits, "fixed": one.fixed}
    return Range(
        does=does,
        unit=one.unit,
        supply=supply,
        low=one.low,
        high=one.high,
        pct_reading=one.pct or None,
        resolution=one.resolution or None,
        **{name: value or None for name, value in parts.items()},
    )


def _bare(given: Range) -> Range:
    return Range(unit=given.unit, supply=given.supply, low=given.low, high=given.high)


def _without_supply(place: str) -> tuple[str, str | None]:
    """Return a place without the supply at its end, and the supply."""
    words = place.split()
    if words and words[-1] in SUPPLIES:
        return " ".join(words[:-1]), words[-1]
    return place.strip(), None


def _reads_text(one: Range) -> str:
    parts = [
        f"{plain(one.pct_reading)}%" if one.pct_reading is not None else "",
        f"{plain(one.pct_range)}% range" if one.pct_range is not None else "",
        f"{plain(one.digits)} digits of {plain(one.resolution or 0)}"
        if one.digits is not None
        else "",
        plain(one.fixed) if one.fixed is not None else "",
    ]
    stated = " + ".join(part for part in parts if part)
    return f"{_place(one)}: {stated}" if stated else _place(one)


def _place(one: Range) -> str:
    ends = (
        ""
        if one.low is None or one.high is None
        else f"{plain(one.low)}..{plain(one.high)}"
    )
    return " ".join(part for part in (ends, one.unit, one.supply) if part)


def _fault(field: str, piece: str, how: str) -> InputError:
    return InputError(Fault(field=field, message=f"'{piece}' is no range: {how}."))
