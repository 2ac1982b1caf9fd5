"""What a fit of pickup and dial says to people."""

from collections.abc import Mapping
from typing import Any

from models.judging.curve_fit import CurveFit, NoFit
from models.judging.wording import figure, plain

AS_SET = 0.005  # of the setting: less is not worth a word (own figure)
U_DIGITS = 2


def fit_words(found: CurveFit | NoFit, bound: Mapping[str, Any]) -> list[str]:
    """Return the fit in sentences: the diagnosis first, then the numbers."""
    if isinstance(found, NoFit):
        return [found.reason]
    return [
        _diagnosis(found, bound["time_dial"]),
        (
            f"Fitted to {len(found.timings)} times: pickup {figure(found.pickup)} ± "
            f"{figure(found.pickup_u, U_DIGITS)} times the setting, dial "
            f"{figure(found.dial)} ± {figure(found.dial_u, U_DIGITS)} (set "
            f"{plain(bound['time_dial'])}); ± is one standard deviation."
        ),
        _furthest(found),
    ]


def _diagnosis(found: CurveFit, set_dial: float) -> str:
    pickup = _either(
        found.pickup - 1.0,
        found.student * found.pickup_u,
        f"a pickup of {figure(found.pickup)} × set",
        "the pickup as set",
    )
    dial = _either(
        found.dial / set_dial - 1.0,
        found.student * found.dial_u / set_dial,
        f"a dial of {figure(found.dial)}",
        "the dial as set",
    )
    return f"The times fit {pickup} and {dial}; ± at 95 %."


def _either(off: float, margin: float, differs: str, alike: str) -> str:
    words = differs if abs(off) > max(margin, AS_SET) else alike
    return f"{words} (± {figure(100 * margin, U_DIGITS)} %)"


def _furthest(found: CurveFit) -> str:
    residual, timing = max(
        zip(found.residuals, found.timings, strict=True),
        key=lambda pair: abs(pair[0]),
    )
    side = "above" if residual > 0 else "below"
    return (
        f"Furthest from the fitted curve: {figure(abs(100 * residual), U_DIGITS)} % "
        f"{side} it, at {figure(timing.multiple)} times pickup."
    )
