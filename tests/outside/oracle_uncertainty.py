"""Uncertainties by the `uncertainties` package, printed as JSON.

Standard input: a list of cases. A reading is [value, half-width]; its standard
uncertainty is the half-width over the root of three (JCGM 100:2008, 4.3.7), carried
through the formula by the package's own derivatives, and doubled.
"""

import json
import math
import sys
from typing import Any

from uncertainties import ufloat
from uncertainties.umath import exp, log


def of(reading: list[float]) -> Any:
    """Return a reading as the package's number with its standard uncertainty."""
    value, half_width = reading
    return ufloat(value, half_width / math.sqrt(3))


def metal(case: dict[str, Any]) -> Any:
    """Return R (k + 20) / (k + T)."""
    return of(case["reading"]) * (case["k"] + 20) / (case["k"] + case["celsius"])


def between(case: dict[str, Any]) -> Any:
    """Return R times a factor between two rows, joined log-linearly."""
    (low_c, low), (high_c, high) = case["rows"]
    share = (case["celsius"] - low_c) / (high_c - low_c)
    return exp(log(of(case["reading"])) + log(low) + share * log(high / low))


def ratio(case: dict[str, Any]) -> Any:
    """Return one reading over another."""
    return of(case["reading"]) / of(case["lowest"])


FORMULAS = {"metal": metal, "between": between, "ratio": ratio}


def answer(case: dict[str, Any]) -> list[float]:
    """Return the value of the formula and U, k = 2."""
    found = FORMULAS[case["formula"]](case)
    return [found.nominal_value, 2 * found.std_dev]


print(json.dumps([answer(case) for case in json.load(sys.stdin)]))
