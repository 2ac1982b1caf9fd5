"""The dual-slope characteristic, to the digits of `programme.md` 6.4.

From pickup: a transformer differential testing procedure prints 0.30 at 0.15 and 0.48
at 0.75. Through the origin: worked out by hand. scipy is not asked: straight lines.
"""

import pytest

from models.judging.expected import line_at
from models.procedures.differential import Slopes, corners, injected

ORIGIN = Slopes("origin", 0.3, 0.25, 0.6, 3.0)
FROM_PICKUP = Slopes("from_pickup", 0.3, 0.3, 0.7, 3.0)
RESTRAINTS = (0.15, 0.5, 0.75, 1.2, 2.0, 3.0, 5.0, 8.0)
LINES = {
    "origin": (ORIGIN, (0.3, 0.3, 0.3, 0.3, 0.5, 0.75, 1.95, 3.75)),
    "from pickup": (
        FROM_PICKUP,
        (0.3, 0.405, 0.48, 0.615, 0.855, 1.155, 2.555, 4.655),
    ),
}


@pytest.mark.parametrize(("set_to", "operate"), LINES.values(), ids=LINES)
def test_operate_current(set_to: Slopes, operate: tuple[float, ...]) -> None:
    found = [line_at(corners(set_to), restraint) for restraint in RESTRAINTS]
    assert found == pytest.approx(list(operate), rel=1e-12)


def test_corners() -> None:
    assert corners(ORIGIN)[:3] == [[0.0, 0.3], [1.2, 0.3], [3.0, 0.75]]
    first = [value for corner in corners(FROM_PICKUP)[:3] for value in corner]
    assert first == pytest.approx([0.0, 0.3, 0.15, 0.3, 3.0, 1.155])


# Taps of 4.9 and 3.6 A; what both windings get on the origin line, amperes.
CURRENTS = {
    "average at 2": ("average", 2.0, 0.5, (11.025, 6.3)),
    "sum at 2": ("sum", 2.0, 0.5, (6.125, 2.7)),
    "maximum at 2": ("maximum", 2.0, 0.5, (9.8, 5.4)),
    "average at 5": ("average", 5.0, 1.95, (29.2775, 14.49)),
    "sum at 5": ("sum", 5.0, 1.95, (17.0275, 5.49)),
    "maximum at 5": ("maximum", 5.0, 1.95, (24.5, 10.98)),
}


@pytest.mark.parametrize(
    ("restraint_as", "restraint", "operate", "amperes"),
    CURRENTS.values(),
    ids=CURRENTS,
)
def test_what_is_injected(
    restraint_as: str, restraint: float, operate: float, amperes: tuple[float, float]
) -> None:
    one, two = injected(restraint_as, restraint, operate)
    assert (one * 4.9, two * 3.6) == pytest.approx(amperes, rel=1e-12)


def test_a_break_before_the_first_slope_is_refused() -> None:
    with pytest.raises(ValueError, match="break"):
        corners(ORIGIN._replace(break_at=1.2))
