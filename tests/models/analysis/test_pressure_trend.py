"""A residual pressure over the years: its line, the time left, or why none."""

import math
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.analysis import pressure_trend as trends
from models.analysis.pressure_trend import Pressure, fit, pressure_trend

LIMIT_PA, FLOOR_PA = 1e-2, 1e-4
YEAR = timedelta(days=365.25)
BEGIN = date(2020, 1, 1)


def seen(*pressures: float, share: float | None = None) -> list[Pressure]:
    """Return readings four years apart (whole days), U as a share of each."""
    return [
        Pressure(
            day=BEGIN + 4 * n * YEAR,
            pa=pa,
            u_pa=None if share is None else share * pa,
        )
        for n, pa in enumerate(pressures)
    ]


def found(*pressures: float, share: float | None = None) -> trends.PressureTrend:
    return pressure_trend(
        seen(*pressures, share=share), limit_pa=LIMIT_PA, floor_pa=FLOOR_PA
    )


# readings four years apart -> why no time is given
NO_TIME: dict[str, tuple[tuple[float, ...], str]] = {
    "none": ((), trends.ONE_ROUND),
    "one": ((1e-3,), trends.ONE_ROUND),
    "one above zero": ((0.0, 1e-3), trends.ONE_ROUND),
    "falling": ((3e-3, 2e-3, 1e-3), trends.FLAT),
    "flat": ((1e-3, 1e-3), trends.FLAT),
    "at the limit": ((1e-3, 1e-2), trends.REACHED),
    "above the limit": ((1e-3, 2e-2), trends.REACHED),
    "above the limit and falling": ((3e-2, 2e-2), trends.REACHED),
    "where a getter hides the leak": ((2e-5, 9e-5), "Below about 0.0001 Pa getter"),
}


@pytest.mark.parametrize(("pressures", "said"), NO_TIME.values(), ids=NO_TIME)
def test_no_time_is_given_and_the_reason_said(
    pressures: tuple[float, ...], said: str
) -> None:
    trend = found(*pressures)
    assert trend.left is None
    assert trend.reason.startswith(said)


def test_readings_of_one_day_are_no_trend() -> None:
    day = [Pressure(day=BEGIN, pa=pa) for pa in (1e-3, 2e-3)]
    trend = pressure_trend(day, limit_pa=LIMIT_PA, floor_pa=FLOOR_PA)
    assert (trend.line, trend.left, trend.reason) == (None, None, trends.ONE_DAY)


def test_without_a_limit_there_is_a_line_and_no_time() -> None:
    trend = pressure_trend(seen(1e-3, 2e-3), limit_pa=None, floor_pa=FLOOR_PA)
    assert trend.line is not None
    assert trend.left is None
    assert trend.reason.startswith("No limit")


def test_two_rounds_give_a_line_and_no_uncertainty() -> None:
    """1e-4 to 1e-3 in four years: a decade; another one takes four years more."""
    trend = found(1e-4, 1e-3)
    assert trend.line is not None and trend.left is not None
    assert trend.line.slope == pytest.approx(0.25)
    assert (trend.line.slope_u, trend.line.half) == (None, None)
    assert trend.line.band(0.0) is None
    assert trend.left.about == pytest.approx(4.0)
    assert (trend.left.earliest, trend.left.latest) == (None, None)
    # 9e-4 Pa in four years, and 9e-3 Pa still to go: 40 years, beyond the horizon.
    assert trend.left.constant_leak is None


def test_rounds_on_a_line_leave_no_doubt_but_the_instrument_s() -> None:
    exact = found(1e-4, 10**-3.5, 1e-3)
    assert exact.left is not None
    left = (exact.left.earliest, exact.left.about, exact.left.latest)
    assert left == pytest.approx((8.0, 8.0, 8.0), abs=1e-6)
    # U of 20 %: u = 10 %, 0.0434 decades; 1.645 u / sqrt(3) at the middle round.
    known = found(1e-4, 10**-3.5, 1e-3, share=0.2)
    assert known.line is not None and known.left is not None
    half = 1.6448536 * 0.1 / math.log(10)
    assert known.line.half == pytest.approx(half, rel=1e-6)
    low, high = known.line.band(-4.0) or (0.0, 0.0)
    assert math.log10(high / low) == pytest.approx(2 * half / math.sqrt(3), rel=1e-6)
    assert known.left.earliest is not None and known.left.latest is not None
    assert known.left.earliest < 8.0 < known.left.latest


def test_scatter_leaves_the_latest_time_open() -> None:
    """Four rounds that do not tell the slope from none."""
    trend = found(6e-4, 5e-3, 3e-3, 8e-3)
    assert trend.left is not None
    assert trend.left.about is not None
    assert trend.left.earliest == 0.0
    assert trend.left.latest is None


def test_no_time_beyond_three_times_what_was_observed() -> None:
    """0.01 decades a year: 0.92 decades would take 92 years; 8 were observed."""
    trend = found(1e-3, 10**-2.96, 10**-2.92)
    assert trend.line is not None and trend.left is not None
    assert trend.line.horizon == pytest.approx(24.0)
    assert trend.left == trends.TimeLeft(
        about=None, earliest=None, latest=None, constant_leak=None
    )


def test_a_constant_leak_by_the_usual_arithmetic() -> None:
    """2e-3 to 6e-3 Pa in eight years: 5e-4 Pa a year; 4e-3 Pa are left: 8 years."""
    trend = found(2e-3, 3.5e-3, 6e-3)
    assert trend.left is not None
    assert trend.left.constant_leak == pytest.approx(8.0)


pressures = st.lists(st.floats(1e-4, 9e-3), min_size=3, max_size=8)


@pytest.mark.property
@given(pressures, st.one_of(st.none(), st.floats(0.01, 0.5)))
def test_the_range_holds_the_time_and_ends_where_the_band_meets_the_limit(
    values: list[float], share: float | None
) -> None:
    trend = found(*values, share=share)
    if trend.left is None or trend.left.about is None or trend.line is None:
        return
    left, line = trend.left, trend.line
    assert left.about is not None and left.earliest is not None
    assert left.earliest <= left.about * (1 + 1e-9) + 1e-9
    assert left.latest is None or left.about <= left.latest * (1 + 1e-9) + 1e-9
    if left.about > 0:
        assert line.at(left.about) == pytest.approx(LIMIT_PA, rel=1e-6)
    for end, side in ((left.earliest, 1), (left.latest, 0)):
        band = line.band(end) if end else None
        if band:
            assert band[side] == pytest.approx(LIMIT_PA, rel=1e-6)


@pytest.mark.property
@given(pressures)
def test_the_order_of_the_rounds_does_not_matter(values: list[float]) -> None:
    given_ = seen(*values)
    one = pressure_trend(given_, limit_pa=LIMIT_PA, floor_pa=FLOOR_PA)
    other = pressure_trend(given_[::-1], limit_pa=LIMIT_PA, floor_pa=FLOOR_PA)
    assert one == other


def test_the_unit_of_time_is_the_year_of_365_25_days() -> None:
    line = fit(seen(1e-4, 1e-3))
    assert line.observed == 4.0
