"""What a fit of pickup and dial says to people."""

from collections.abc import Mapping
from typing import Any

from models.judging.curve_fit import CurveFit, NoFit
from models.judging.wording import figure, plain
from models.words import say

AS_SET = 0.005  # of the setting: less is not worth a word (own figure)
U_DIGITS = 2


def fit_words(found: CurveFit | NoFit, bound: Mapping[str, Any]) -> list[str]:
    """Return the fit in sentences: the diagnosis first, then the numbers."""
    if isinstance(found, NoFit):
        return [found.reason]
    numbers = say(
        "fit.numbers",
        count=str(len(found.timings)),
        pickup=figure(found.pickup),
        pickup_u=figure(found.pickup_u, U_DIGITS),
        dial=figure(found.dial),
        dial_u=figure(found.dial_u, U_DIGITS),
        set=plain(bound["time_dial"]),
    )
    return [_diagnosis(found, bound["time_dial"]), numbers, _furthest(found)]


def _diagnosis(found: CurveFit, set_dial: float) -> str:
    pickup_margin = found.student * found.pickup_u
    dial_margin = found.student * found.dial_u / set_dial
    pickup = say(
        f"fit.pickup.{_compared(found.pickup - 1.0, pickup_margin)}",
        pickup=figure(found.pickup),
        margin=figure(100 * pickup_margin, U_DIGITS),
    )
    dial = say(
        f"fit.dial.{_compared(found.dial / set_dial - 1.0, dial_margin)}",
        dial=figure(found.dial),
        margin=figure(100 * dial_margin, U_DIGITS),
    )
    return say("fit.diagnosis", pickup=pickup, dial=dial)


def _compared(off: float, margin: float) -> str:
    return "differs" if abs(off) > max(margin, AS_SET) else "as_set"


def _furthest(found: CurveFit) -> str:
    residual, timing = max(
        zip(found.residuals, found.timings, strict=True),
        key=lambda pair: abs(pair[0]),
    )
    return say(
        "fit.furthest.above" if residual > 0 else "fit.furthest.below",
        off=figure(abs(100 * residual), U_DIGITS),
        multiple=figure(timing.multiple),
    )
