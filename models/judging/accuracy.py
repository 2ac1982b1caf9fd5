"""An instrument's accuracy, and the expanded uncertainty that follows from it."""

import math
import re
from dataclasses import dataclass

from models.errors import Fault, InputError
from models.judging.quantities import convert_difference
from models.judging.values import parse_number
from models.words import say

_FORM = re.compile(r"\s*(?:(?P<pct>[^%+]+)%)?\s*(?:\+?\s*(?P<fixed>[^%+]+))?\s*")
COVERAGE = 2.0  # k


@dataclass(frozen=True, slots=True)
class Accuracy:
    """Half-width in percent of reading, plus a fixed part in *unit*.

    *unit* None: the unit of the value.
    """

    pct: float = 0.0
    fixed: float = 0.0
    unit: str | None = None

    def expanded(self, value: float, unit: str) -> float:
        """Return U (k = 2) of *value* in *unit*, in that unit.

        The stated limits are taken as a rectangular distribution: standard
        uncertainty = half-width / sqrt(3). Source: JCGM 100:2008 (GUM) 4.3.7;
        expanded with k = 2, 6.2.
        """
        fixed = self.fixed
        if self.unit and self.unit != unit:
            fixed = convert_difference(fixed, self.unit, unit)
        half_width = self.pct / 100.0 * abs(value) + fixed
        return COVERAGE * half_width / math.sqrt(3.0)


def parse_accuracy(text: str) -> Accuracy:
    """Read `5% + 0.02`, `5%` or `0.02`; InputError says the form."""
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


def _fault(text: str) -> InputError:
    return InputError(Fault(field="accuracy", message=say("fault.accuracy", text=text)))
