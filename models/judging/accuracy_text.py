"""An accuracy as it is typed: `5% + 0.02`, or several ranges."""

import re

from models.errors import Fault, InputError
from models.judging.accuracy import (
    Accuracy,
    AccuracyRange,
    RangedAccuracy,
    ranged,
)
from models.judging.quantities import UNITS, unit_name
from models.judging.values import parse_number
from models.words import say

_FORM = re.compile(r"\s*(?:(?P<pct>[^%+]+)%)?\s*(?:\+?\s*(?P<fixed>[^%+]+))?\s*")
_NUMBER = r"[+-]?[0-9.]+?(?:[eE][+-]?[0-9]+)?"
_RANGE = re.compile(
    rf"\s*(?P<low>{_NUMBER})\s*\.\.\s*(?P<high>{_NUMBER})(?P<unit>\s*[^\s0-9.+-].*)?\s*"
)
_PART = re.compile(
    r"(?P<pct_range>.+?)\s*%\s*(?:of\s+)?range"
    r"|(?P<pct>.+?)\s*%(?:\s*(?:of\s+)?reading)?"
    r"|(?P<digits>.+?)\s*digits?\s+of\s+(?P<resolution>.+)"
    r"|(?P<fixed>.+)"
)


def parse_accuracy(text: str) -> Accuracy | RangedAccuracy:
    """Read `5% + 0.02`, `5%`, `0.02`, or ranges; InputError says the form.

    Ranges: `0..200 MOhm: 5% + 0.02; 200..2000 MOhm: 10% + 2% range + 3 digits of 0.1`.
    A range without a unit is in that of the value.
    """
    if ":" in text:
        return _ranges(text)
    match = _FORM.fullmatch(text)
    if not text.strip() or match is None:
        raise _fault(text)
    try:
        pct = parse_number(match["pct"]) if match["pct"] else 0.0
        fixed = parse_number(match["fixed"]) if match["fixed"] else 0.0
    except InputError as error:
        raise _fault(text) from error
    if pct < 0 or fixed < 0:
        raise _fault(text)
    return Accuracy(pct, fixed)


def _ranges(text: str) -> RangedAccuracy:
    pieces = [piece for piece in text.split(";") if piece.strip()]
    ranges = ranged(_range(piece) for piece in pieces)
    quantities = {one.unit and UNITS[one.unit].quantity for one in ranges.ranges}
    if len(quantities) > 1:
        raise _range_fault(text)
    return ranges


def _range(piece: str) -> AccuracyRange:
    place, _, stated = piece.partition(":")
    match = _RANGE.fullmatch(place)
    symbol = (match["unit"] or "").strip() if match else ""
    unit = unit_name(symbol)
    if match is None or (symbol and unit is None):
        raise _range_fault(piece)
    try:
        low, high = parse_number(match["low"]), parse_number(match["high"])
        parts = _parts(stated)
    except InputError as error:
        raise _range_fault(piece) from error
    if not low < high or any(number < 0 for number in parts.values()):
        raise _range_fault(piece)
    return AccuracyRange(low=low, high=high, unit=unit, **parts)


def _parts(stated: str) -> dict[str, float]:
    """Return the parts of a half-width by name; each may be stated once."""
    found: dict[str, float] = {}
    for text in re.split(r"\s*(?<![eE])\+\s*", stated.strip()):
        match = _PART.fullmatch(text)
        given = match.groupdict() if match else {}
        numbers = {n: parse_number(t) for n, t in given.items() if t is not None}
        if not numbers or found.keys() & numbers:
            raise _range_fault(stated)
        found |= numbers
    return found


def _fault(text: str) -> InputError:
    return InputError(Fault(field="accuracy", message=say("fault.accuracy", text=text)))


def _range_fault(text: str) -> InputError:
    message = say("fault.accuracy_range", text=text.strip())
    return InputError(Fault(field="accuracy", message=message))
