"""Knees and rows of readings against figures that were worked out without the program.

The design reference gives them to five digits, of scipy's PCHIP and of the formulas'
roots (relays-and-apparatus D4, programme 6.1); tests/outside asks scipy itself.
"""

import math
import random

import numpy as np
import pytest

from models.errors import CriteriaError
from models.judging import Rule
from models.judging.batch.curves import Curves
from models.judging.knee import knee_by_rise, knee_by_slope, where_reached
from models.judging.pchip import Pchip
from models.judging.rows import log_curve
from models.judging.series import parse_series
from tests.data.cases_words_rows import CURVE, RISE

CROWD = [(step.at, step.value.bound) for step in parse_series("excitation", CURVE)]


def amperes(volts: float) -> float:
    """Return the current of the design reference's first curve (6.1)."""
    return float(0.05 * (volts / 300) ** 0.7 + 0.05 * (volts / 300) ** 14)


def steeper(volts: float) -> float:
    """Return the current of its second curve (D4)."""
    return float(0.02 * (volts / 200) ** 0.6 + 0.02 * (volts / 200) ** 22)


def curve_of(points: list[tuple[float, float]]) -> Pchip:
    curve = log_curve(points)
    assert curve is not None
    return curve


def knees(curve: Pchip) -> list[float]:
    """Return the volts of the IEC knee and of the 45 and 30 degree ones."""
    found = (
        knee_by_rise(curve, 10, 50),
        knee_by_slope(curve, 45),
        knee_by_slope(curve, 30),
    )
    assert not any(isinstance(one, str) for one in found)
    return [math.exp(float(one)) for one in found]


def test_knees_of_22_points_are_those_of_the_design_reference() -> None:
    curve = curve_of(CROWD)
    assert [f"{volts:.2f}" for volts in knees(curve)] == ["264.41", "226.38", "248.77"]
    at_ten = math.exp(float(where_reached(curve, math.log(10))))
    assert f"{at_ten:.2f}" == "437.81"
    knee = knee_by_rise(curve, 10, 50)
    assert isinstance(knee, float)
    assert f"{math.exp(curve.value(knee)):.6f}" == "0.054303"


def test_many_points_reach_the_roots_of_the_formulas() -> None:
    """Exact: 264.53, 225.97, 249.05 V; of the second curve 176.20, 166.21, 174.78."""
    first = [(volts, amperes(volts)) for volts in np.geomspace(10, 440, 2000)]
    assert knees(curve_of(first)) == pytest.approx([264.53, 225.97, 249.05], abs=0.006)
    second = [(volts, steeper(volts)) for volts in np.geomspace(10, 260, 2000)]
    assert knees(curve_of(second)) == pytest.approx([176.20, 166.21, 174.78], abs=0.006)


def test_twelve_wide_steps_miss_the_knee_by_3_6_percent() -> None:
    """Hence a gate wants steps of at most 10 % there: 255.05 V."""
    wide = [(10 * 1.4**n, amperes(10 * 1.4**n)) for n in range(12)]
    assert len(wide) == 12
    low = knees(curve_of(wide))[0]
    assert abs(low / 264.53 - 1) > 0.01


def test_a_curve_without_a_toe_has_no_knee_by_slope() -> None:
    """I = aV + bV^22: the slope is 1 everywhere below."""
    points = [(v, v / 200 + (v / 200) ** 22) for v in np.geomspace(10, 260, 60)]
    assert knee_by_slope(curve_of(points), 45) == "no_toe"


def test_an_early_wiggle_is_no_knee() -> None:
    """Scanned downward: 165.59 V of 60 points with noise, and not 22.8 V."""
    source = random.Random(7)
    points = [
        (v, steeper(v) * (1 + source.gauss(0, 0.01))) for v in np.geomspace(10, 260, 60)
    ]
    volts = math.exp(float(knee_by_slope(curve_of(points), 45)))
    assert volts == pytest.approx(166.21, rel=0.1)


@pytest.mark.property
def test_with_one_percent_of_noise_the_iec_knee_stays_within_one_percent() -> None:
    """The quality asked for: 19 of 20 curves of 22 points, and the mean of all."""
    source = random.Random(20261130)
    found = []
    for _ in range(300):
        points = [(v, i * (1 + source.gauss(0, 0.01))) for v, i in CROWD]
        found.append(math.exp(float(knee_by_rise(curve_of(points), 10, 50))))
    errors = sorted(abs(volts / 264.53 - 1) for volts in found)
    assert sum(found) / len(found) == pytest.approx(264.53, rel=0.002)
    assert errors[int(0.95 * len(errors))] < 0.01


def test_columns_give_what_one_curve_gives() -> None:
    """Rows of every length at once, some with no knee at all."""
    lines = [CROWD[: n + 2] for n in range(21)] + [CROWD[n:] for n in range(20)]
    width = max(map(len, lines))
    x, y = np.full((2, len(lines), width), np.nan)
    for place, line in enumerate(lines):
        x[place, : len(line)], y[place, : len(line)] = np.log(line).T
    many = Curves(x, y)
    pairs = (
        (many.knee_by_rise(10, 50), lambda curve: knee_by_rise(curve, 10, 50)),
        (many.knee_by_slope(45), lambda curve: knee_by_slope(curve, 45)),
        (many.knee_by_slope(30), lambda curve: knee_by_slope(curve, 30)),
        (many.where_reached(0.1), lambda curve: where_reached(curve, 0.1)),
    )
    for found, one in pairs:
        wanted = [one(curve_of(line)) for line in lines]
        numbers = [math.nan if isinstance(w, str) else w for w in wanted]
        assert found == pytest.approx(numbers, rel=1e-9, nan_ok=True)
        assert np.isnan(found).any()
        assert not np.isnan(found).all()


WORD = {**RISE, "name": "knee"}
GATE = {"series": "excitation", "above": {"of": "knee", "least": 2}}
REFUSED = {
    "no such row": ({**WORD, "series": "amperes"}, {}, "'series' is not"),
    "no such definition": ({**WORD, "by": "eye"}, {}, "'by' is not"),
    "a rise without its share": ({**WORD, "value_pct": None}, {}, "'value_pct' is not"),
    "above nothing": ({**WORD, "name": "other"}, GATE, "of no derived value"),
    "a gap alone": (WORD, {"series": "excitation", "gap_pct": 5}, "goes with 'above'"),
    "a share of nothing": (
        {"name": "a", "op": "series_at", "series": "fall", "share": 0.6},
        {},
        "'share_of' is not",
    ),
}


@pytest.mark.parametrize(("word", "gate", "said"), REFUSED.values(), ids=REFUSED)
def test_a_rule_that_says_too_little_is_refused(
    word: dict[str, object], gate: dict[str, object], said: str
) -> None:
    with pytest.raises(CriteriaError, match=said):
        Rule(procedure="x", unit="V", derive=[word], gates=[gate] if gate else [])
