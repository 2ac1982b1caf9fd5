"""What was timed on one relay, and the settings that the times fit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.judging.curve_fit import CurveFit, NoFit, fit_curve, sloping
from models.judging.fit_words import fit_words
from models.judging.timing_band import unwidened
from models.judging.timing_options import MEASURED
from webapp.drawing.figures import numbers

Bound = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """A measured operating time; *seconds* None: it did not operate.

    *exact* False: the time is only a bound. *pickup_a*: the pickup as measured.
    """

    label: str
    applied_a: float
    seconds: float | None
    verdict: str
    exact: bool = True
    pickup_a: float | None = None


def timing_bound(rule: Mapping[str, Any]) -> Bound | None:
    """Return the operating-time bound of a rule, its numbers as numbers."""
    for bound in rule["bounds"]:
        if bound["kind"] == "operating_time" and "pickup_a" in bound:
            found: Bound = numbers(bound)
            return found
    return None


def decided_on(bound: Bound, timed: Sequence[Timed]) -> Bound:
    """Return the bound as it decides: on the measured pickup where the rule says so."""
    measured = [one.pickup_a for one in timed if one.pickup_a]
    if bound.get("against") != MEASURED or not measured:
        return bound
    return {**unwidened(bound), "pickup_a": measured[-1]}


def fit_of(bound: Bound, timed: Sequence[Timed]) -> CurveFit | NoFit:
    """Return the pickup and dial that the times fit, or why none do."""
    exact = [(one.applied_a, one.seconds if one.exact else None) for one in timed]
    return fit_curve(bound["curve"], sloping(bound, exact))


def fit_lines(rule: Mapping[str, Any], timed: Sequence[Timed]) -> list[str]:
    """Return what the times say of the settings; nothing where no curve slopes."""
    bound = timing_bound(rule)
    if bound is None or bound["curve"]["form"] == "definite" or not timed:
        return []
    return fit_words(fit_of(bound, timed), bound)
