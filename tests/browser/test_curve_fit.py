"""The tablet's fit of pickup and dial against the core's, in a real browser."""

import random
from dataclasses import asdict
from typing import Any

import pytest

from models.judging.curve_fit import CurveFit, NoFit, Timing, fit_curve, sloping
from models.judging.curves import operating_time
from models.judging.fit_words import fit_words
from tests.browser.test_golden import Ask, ask

__all__ = ["ask"]  # a fixture
pytestmark = pytest.mark.browser

CURVES = (
    {"form": "inverse", "a": 0.14, "b": 0.0, "p": 0.02},
    {"form": "inverse", "a": 80.0, "b": 0.0, "p": 2.0},
    {"form": "inverse", "a": 19.61, "b": 0.491, "p": 2.0},
    {"form": "definite", "a": 0.0, "b": 0.0, "p": 0.0},
)
SEED = 20261126


def cases(count: int) -> list[tuple[dict[str, Any], list[Timing]]]:
    """Return timings of relays that are a little off, and some of no relay at all."""
    source = random.Random(SEED)
    found = []
    for _ in range(count):
        curve = source.choice(CURVES)
        pickup, dial = source.uniform(0.9, 1.1), source.uniform(0.05, 3.0)
        noise = source.choice((1e-4, 2e-3, 2e-2, 1.5))
        at = source.choices((1.5, 2.0, 3.0, 4.0, 5.0, 8.0, 10.0, 20.0), k=5)
        at = at[: source.choice((2, 3, 5, 5, 5))]
        times = [
            operating_time(curve, dial, m / pickup) * source.lognormvariate(0, noise)
            for m in at
        ]
        found.append((curve, list(map(Timing, at, times))))
    return found


def test_the_tablet_fits_what_the_core_fits(ask: Ask) -> None:
    made = cases(400)
    calls = [
        [curve, [timing._asdict() for timing in timings]] for curve, timings in made
    ]
    wanted = [fit_curve(curve, timings) for curve, timings in made]
    answers = [answer["gives"] for answer in ask("fitCurve", calls)]
    fitted = [found for found in wanted if isinstance(found, CurveFit)]
    assert min(len(fitted), len(wanted) - len(fitted)) > 50
    for found, given in zip(wanted, answers, strict=True):
        if isinstance(found, NoFit):
            assert given == {"reason": found.reason}
            continue
        ours = asdict(found)
        for name in ("pickup", "dial"):
            assert given[name] == pytest.approx(ours[name], rel=1e-7)
        for name in ("pickup_u", "dial_u"):
            assert given[name] == pytest.approx(ours[name], rel=1e-5)


def test_the_tablet_says_what_the_core_says(ask: Ask) -> None:
    bound = {"time_dial": 1.0}
    fits = [fit_curve(*case) for case in cases(120)]
    calls = [
        [
            {"reason": found.reason}
            if isinstance(found, NoFit)
            else {**asdict(found), "timings": [t._asdict() for t in found.timings]},
            bound,
        ]
        for found in fits
    ]
    said = [answer["gives"] for answer in ask("fitWords", calls)]
    assert said == [fit_words(found, bound) for found in fits]


def test_the_tablet_leaves_out_what_the_core_leaves_out(ask: Ask) -> None:
    bound = {
        "curve": CURVES[0],
        "pickup_a": 100.0,
        "time_dial": 0.3,
        "start_multiple": 1.3,
    }
    timed = [(m * 100.0, 1.0) for m in (0.9, 1.2, 1.3, 2.0, 10.0, 30.0)] + [
        (500.0, None)
    ]
    options = ({}, {"ceiling_multiple": 10.0}, {"minimum_time_s": 0.9})
    answers = ask("sloping", [[{**bound, **each}, timed] for each in options])
    assert [answer["gives"] for answer in answers] == [
        [timing._asdict() for timing in sloping({**bound, **each}, timed)]
        for each in options
    ]
