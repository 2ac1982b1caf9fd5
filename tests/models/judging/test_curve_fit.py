"""Pickup and dial fitted to timings: B6's printed spread, laws, refusals."""

import math
import random
import statistics

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from models.judging.curve_fit import CurveFit, NoFit, Timing, fit_curve, sloping
from models.judging.curves import operating_time
from models.judging.fit_words import fit_words

SI = {"form": "inverse", "a": 0.14, "b": 0.0, "p": 0.02}
VI = {"form": "inverse", "a": 13.5, "b": 0.0, "p": 1.0}
EI = {"form": "inverse", "a": 80.0, "b": 0.0, "p": 2.0}
IEEE_VI = {"form": "inverse", "a": 19.61, "b": 0.491, "p": 2.0}
DEFINITE = {"form": "definite", "a": 0.0, "b": 0.0, "p": 0.0}
AT = (2.0, 3.0, 4.0, 5.0, 8.0)


def timings(curve, pickup, dial, at=AT, noise=None):
    return [
        Timing(
            multiple,
            operating_time(curve, dial, multiple / pickup)
            * (1.0 + (noise() if noise else 0.0)),
        )
        for multiple in at
    ]


def fitted(curve, points) -> CurveFit:
    found = fit_curve(curve, points)
    assert isinstance(found, CurveFit), found
    return found


@pytest.mark.parametrize(
    ("noise_pct", "pickup_spread", "dial_spread"),
    [(0.2, 0.0027, 0.0007), (1.0, 0.013, 0.0035)],
)
def test_the_spread_of_a_thousand_tests(noise_pct, pickup_spread, dial_spread):
    """Five timings of a standard inverse relay, true pickup 1.030 and dial 0.300.

    The figures were worked out once with scipy's curve_fit, on noise of its own.
    """
    source = random.Random(7)
    found = [
        fitted(
            SI,
            timings(SI, 1.03, 0.3, noise=lambda: source.gauss(0.0, noise_pct / 100)),
        )
        for _ in range(1000)
    ]
    pickups, dials = [f.pickup for f in found], [f.dial for f in found]
    assert statistics.mean(pickups) == pytest.approx(1.03, abs=0.0015)
    assert statistics.mean(dials) == pytest.approx(0.3, abs=0.0005)
    assert statistics.stdev(pickups) == pytest.approx(pickup_spread, rel=0.1)
    assert statistics.stdev(dials) == pytest.approx(dial_spread, rel=0.1)
    # What one test says of its own spread is right in the mean of the squares.
    stated = math.sqrt(statistics.mean(f.pickup_u**2 for f in found))
    assert stated == pytest.approx(pickup_spread, rel=0.1)


# A hundredth apart at least: what is nearer counts as one multiple.
MULTIPLES = st.integers(150, 1500).map(lambda hundredths: hundredths / 100)


@pytest.mark.property
@given(
    curve=st.sampled_from([SI, VI, EI, IEEE_VI]),
    pickup=st.floats(0.7, 1.2),
    dial=st.floats(0.05, 10.0),
    at=st.lists(MULTIPLES, min_size=3, max_size=8, unique=True),
)
def test_times_on_a_curve_give_its_settings_back(curve, pickup, dial, at):
    assume(max(at) / min(at) > 1.5)
    found = fitted(curve, timings(curve, pickup, dial, at))
    assert found.pickup == pytest.approx(pickup, rel=1e-5)
    assert found.dial == pytest.approx(dial, rel=1e-4)
    assert max(map(abs, found.residuals)) < 1e-6


@pytest.mark.property
@given(
    times=st.lists(st.floats(0.01, 1000.0), min_size=3, max_size=6),
    curve=st.sampled_from([SI, EI, IEEE_VI]),
)
def test_any_times_at_all_are_fitted_or_refused(times, curve):
    points = [Timing(2.0 + at, seconds) for at, seconds in enumerate(times)]
    found = fit_curve(curve, points)
    if isinstance(found, CurveFit):
        assert 0 < found.pickup < 2.0
        assert all(
            math.isfinite(number)
            for number in (found.dial, found.dial_u, found.pickup_u)
        )


def test_the_dial_takes_what_all_times_have_in_common():
    points = timings(SI, 1.0, 0.3)
    slower = [Timing(p.multiple, 1.1 * p.seconds) for p in points]
    found = fitted(SI, slower)
    assert (found.pickup, found.dial) == pytest.approx((1.0, 0.33))


def test_a_residual_is_measured_over_fitted():
    points = timings(SI, 1.0, 0.3)
    points[2] = Timing(points[2].multiple, points[2].seconds * 1.05)
    found = fitted(SI, points)
    at = found.residuals
    for point, residual in zip(points, at, strict=True):
        on_curve = operating_time(SI, found.dial, point.multiple / found.pickup)
        assert point.seconds / on_curve - 1 == pytest.approx(residual, rel=1e-9)
    assert max(at) == at[2]


REFUSED: dict[str, tuple[dict[str, object], list[Timing], str]] = {
    "two timings": (SI, timings(SI, 1.0, 0.3, (2.0, 5.0)), "there are 2"),
    "one multiple thrice": (SI, timings(SI, 1.0, 0.3, (2.0,) * 3), "there is 1"),
    "nothing": (SI, [], "there are 0"),
    "definite time": (DEFINITE, timings(SI, 1.0, 0.3), "definite"),
    "a time of nought": (SI, [Timing(m, 0.0) for m in AT], "A time of nothing"),
    "at pickup": (SI, [Timing(m, 1.0) for m in (1.0, 2.0, 3.0)], "At or below"),
    "all far up": (
        EI,
        timings(EI, 1.0, 1.0, (200.0, 300.0, 400.0)),
        "look alike",
    ),
}


@pytest.mark.parametrize(("curve", "points", "said"), REFUSED.values(), ids=REFUSED)
def test_why_nothing_is_fitted(curve, points, said):
    found = fit_curve(curve, points)
    assert isinstance(found, NoFit)
    assert said in found.reason


def bound(**options):
    return {
        "curve": SI,
        "pickup_a": 100.0,
        "time_dial": 0.3,
        "start_multiple": 1.3,
        **options,
    }


SLOPING: dict[str, tuple[dict[str, object], list[float]]] = {
    "as set": ({}, [1.3, 2.0, 10.0, 30.0]),
    "a ceiling": ({"ceiling_multiple": 10.0}, [1.3, 2.0]),
    # 0.3 x 0.14 / (10^0.02 - 1) = 0.891 s, and 0.597 s at 30
    "a minimum time": ({"minimum_time_s": 0.9}, [1.3, 2.0]),
}


@pytest.mark.parametrize(("options", "kept"), SLOPING.values(), ids=SLOPING)
def test_what_tells_nothing_of_the_settings_is_left_out(options, kept):
    timed = [(m * 100.0, 1.0) for m in (0.9, 1.2, 1.3, 2.0, 10.0, 30.0)]
    found = sloping(bound(**options), [*timed, (500.0, None)])
    assert [timing.multiple for timing in found] == pytest.approx(kept)


SAID: dict[str, tuple[float, float, str]] = {
    "pickup off": (1.03, 0.3, "a pickup of 1.030 × set (± 0.00"),
    "dial off": (1.0, 0.31, "a dial of 0.3100 (±"),
    "as set": (1.0, 0.3, "The times fit the pickup as set (± "),
    "too little to say": (1.004, 0.3, "the pickup as set"),
}


@pytest.mark.parametrize(("pickup", "dial", "said"), SAID.values(), ids=SAID)
def test_the_diagnosis(pickup, dial, said):
    # a scatter of 1e-6, so that there is a spread to print
    source = random.Random(1)
    points = timings(SI, pickup, dial, noise=lambda: source.gauss(0.0, 1e-6))
    assert said in fit_words(fitted(SI, points), bound())[0]


def test_a_difference_inside_the_spread_is_none():
    source = random.Random(3)
    points = timings(SI, 1.01, 0.3, noise=lambda: source.gauss(0.0, 0.02))
    assert "the pickup as set" in fit_words(fitted(SI, points), bound())[0]


def test_why_not_is_said():
    found = fit_curve(SI, [])
    assert fit_words(found, bound()) == [
        "3 times at different multiples are wanted for a fit of pickup and dial; "
        "there are 0."
    ]
