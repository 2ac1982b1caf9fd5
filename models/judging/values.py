"""What was typed, as the interval in which the true value lies, or as an outcome."""

import re
import unicodedata
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from models.errors import Fault, InputError
from models.words import say

# Digits are 0 to 9 only: other scripts' digits are refused, not guessed.
_NUMBER = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?")
_ASCII_BLANKS = " \x7f" + "".join(map(chr, range(0x20)))
LARGEST = 1e30  # beyond that a figure is a slip of the finger


class Outcome(StrEnum):
    """What may be observed instead of a number."""

    HELD = "held"
    BROKE_DOWN = "broke_down"
    NO_TRIP = "no_trip"
    AS_EXPECTED = "as_expected"
    NOT_AS_EXPECTED = "not_as_expected"
    NOT_FITTED = "not_fitted"
    OPERATED = "operated"
    BLOCKED = "blocked"


_OUTCOMES = frozenset(Outcome)


@dataclass(frozen=True, slots=True)
class Interval:
    """Where the true value lies; None: no bound on that side.

    4.2 is (4.2, 4.2); a display showing >200 is (200, None), which is not the
    number 200.
    """

    low: float | None
    high: float | None

    @property
    def exact(self) -> bool:
        """Whether both bounds are one number."""
        return self.low is not None and self.low == self.high

    @property
    def bound(self) -> float:
        """The number shown: the value itself, or the bound that is known."""
        shown = self.low if self.low is not None else self.high
        assert shown is not None
        return shown


@lru_cache(maxsize=16384)
def parse_value(text: str, *, refusal: str = "fault.no_number") -> Interval | Outcome:
    """Read a typed value: `4.2`, `>200`, `<0.01`, `3e-4`, `held` ...

    Raises InputError saying what is wrong and what to type instead; never
    guesses (4,2 is neither 4.2 nor 42). *refusal* names the sentence for a word.
    """
    sign, number = "", text
    if _NUMBER.fullmatch(text) is None:
        sign, number = _parts(text)
        if number in _OUTCOMES and not sign:
            return Outcome(number)
        if not number:
            raise _fault(say("fault.nothing"))
        if _NUMBER.fullmatch(number) is None:
            raise _fault(_why_no_number(number, refusal))
    value = float(number) + 0.0  # a typed -0 is 0, in the record and in its log alike
    if not abs(value) < LARGEST:
        raise _fault(say("fault.too_large", number=number))
    if sign == ">":
        return Interval(value, None)
    if sign == "<":
        return Interval(None, value)
    return Interval(value, value)


def parse_number(text: str) -> float:
    """Read a plain number; InputError for anything else, bounds included."""
    value = parse_value(text, refusal="fault.no_plain_number")
    if not isinstance(value, Interval) or not value.exact:
        raise _fault(say("fault.not_plain", text=_trimmed(text)))
    return value.bound


def legible(text: str) -> str:
    """Return a typed value without the blanks and marks that nobody sees."""
    return "".join(_parts(text))


def _parts(text: str) -> tuple[str, str]:
    typed = _trimmed(text)
    sign = typed[:1] if typed[:1] in ("<", ">") else ""
    return sign, _trimmed(typed[len(sign) :])


def _trimmed(text: str) -> str:
    """Strip spaces of every kind, and the marks that text editors leave."""
    if text.isascii():
        return text.strip(_ASCII_BLANKS)
    return text.strip("".join(c for c in text if _blank(c)))


def _blank(character: str) -> bool:
    return unicodedata.category(character) in ("Zs", "Zl", "Zp", "Cf", "Cc")


def _why_no_number(number: str, refusal: str) -> str:
    if "," in number:
        return say("fault.comma", number=number)
    if any(_blank(c) or c in "'_" for c in number):
        return say("fault.separator", number=number)
    return say(refusal, number=number)


def _fault(message: str) -> InputError:
    return InputError(Fault(field="value", message=message))
