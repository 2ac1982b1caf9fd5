"""An angle beside the one that is expected."""

from models.judging.angles import wrapped
from models.judging.expected import expected_value
from models.judging.measured import Measured
from models.judging.near import at_least
from models.judging.parts import Part
from models.judging.state import State
from models.judging.verdicts import verdict_of


def find_near_angle(state: State, part: Part, measured: Measured) -> None:
    """Compare with an angle the shorter way round: 359.9 is 0.2 from 0.1.

    A bound of an angle may lie anywhere on the circle.
    """
    expected = expected_value(state, part["expected"])
    if expected is None:
        state.unknown("no_expected", part)
        return
    within, guard = part["within_deg"], measured.expanded or 0.0
    numbers = {"expected": expected, "within": within}
    state.find(None, "expected_value", part, numbers=numbers)
    difference = wrapped(measured.shown - expected)
    away = abs(difference)
    verdict = verdict_of(
        sure=measured.exact and at_least(within, away + guard),
        perhaps=not measured.exact or at_least(within, away - guard),
        exact=measured.exact,
    )
    low, high = expected - within, expected + within
    numbers = {"difference": difference}
    state.find(verdict, "near_angle", part, low=low, high=high, numbers=numbers)
