"""The knee of an excitation curve: volts over amperes, in the logarithms of both.

By rise (IEC 60050-321-02-34 as quoted): the least voltage from which some percent
more raise the current by so many percent. By slope (IEEE C57.13 as quoted): where the
tangent on log-log paper, volts upwards, stands at an angle; the first from the top.
"""

import math
from collections.abc import Callable

from models.judging.pchip import Pchip

HALVINGS = 60
TOE = 0.95  # the toe has to lie below it: our choice; else there is no knee by slope
NOT_REACHED, BEGINS_ABOVE, NO_TOE = "not_reached", "begins_above", "no_toe"


def knee_by_rise(curve: Pchip, step_pct: float, value_pct: float) -> float | str:
    """Return x = ln V of the knee, or why there is none.

    Upwards from the first point, between the places where either end of the step
    passes a point of the curve.
    """
    step, wanted = math.log1p(step_pct / 100), math.log1p(value_pct / 100)
    first, last = curve.x[0], curve.x[-1] - step
    places = sorted({*curve.x, *(x - step for x in curve.x)})
    places = [x for x in places if first <= x <= last]

    def beyond(x: float) -> bool:
        return curve.value(x + step) - curve.value(x) >= wanted

    for n, x in enumerate(places):
        if beyond(x):
            return _between(places[n - 1], x, beyond) if n else BEGINS_ABOVE
    return NOT_REACHED


def knee_by_slope(curve: Pchip, degrees: float) -> float | str:
    """Return x = ln V of the knee, or why there is none.

    At 45 degrees the slope is 1, at 30 (gapped cores) tan 60.
    """
    wanted = math.tan(math.radians(90 - degrees))
    slopes = curve.slopes
    if slopes[-1] < wanted and max(slopes) < wanted:
        return NOT_REACHED
    for i in reversed(range(len(slopes) - 1)):
        if slopes[i] < wanted <= slopes[i + 1]:
            if min(slopes[: i + 1]) >= TOE:
                return NO_TOE
            low, high = curve.x[i], curve.x[i + 1]
            return _between(low, high, lambda x: curve.slope(x) >= wanted)
    return NO_TOE


def where_reached(curve: Pchip, y: float) -> float | str:
    """Return the least x at which the curve reaches *y*, or why it does not."""
    if curve.y[0] > y:
        return BEGINS_ABOVE
    for i, end in enumerate(curve.y[1:]):
        if end >= y:
            low, high = curve.x[i], curve.x[i + 1]
            return _between(low, high, lambda x: curve.value(x) >= y)
    return NOT_REACHED


def _between(low: float, high: float, beyond: Callable[[float], bool]) -> float:
    """Return the place that halving finds between one before and one *beyond*."""
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if beyond(middle) else (middle, high)
    return (low + high) / 2
