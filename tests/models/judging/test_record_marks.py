"""Marks of a coil's current and figures of the travel, against records of known answer.

The travel of a damped mass is the step response of a second-order system: it overshoots
by exp(-pi z / sqrt(1 - z2)) of the step at pi / wd, and undershoots by the square of it
at 2 pi / wd (control engineering textbooks). The current of a coil at rest rises
as 1 - exp(-t R / L); the dip is laid on it here, its ends known.
"""

import math
import random

import pytest

from models.judging.record_marks import coil_marks, marks_in_force, travel_figures

TAU, PEAK, LATCH, OPENS = 6.0, 9.0, 12.0, 28.0  # ms


def current(at: float) -> float:
    """Return amperes: energized at 2 ms, from 9 to 12 ms it falls by a fifth."""
    if at < 2.0:
        return 0.0
    if at > OPENS:
        return current(OPENS) * math.exp(-(at - OPENS) / 0.7)
    rise = 5.7 * (1 - math.exp(-(min(at, PEAK) - 2.0) / TAU))
    if at <= PEAK:
        return rise
    if at <= LATCH:
        return rise * (1 - 0.2 * (at - PEAK) / (LATCH - PEAK))
    least = 0.8 * rise
    return least + (5.7 - least) * (1 - math.exp(-(at - LATCH) / TAU))


def shot(step: float, noise: float = 0.0) -> list[tuple[float, float]]:
    source = random.Random(20261130)
    ticks = [step * n for n in range(int(36 / step) + 1)]
    return [(at, current(at) * (1 + source.gauss(0.0, noise))) for at in ticks]


@pytest.mark.parametrize(("noise", "off"), [(0.0, 0.2), (0.005, 0.6)])
def test_marks_of_a_coil_lie_where_they_were_put(noise: float, off: float) -> None:
    found = coil_marks(shot(0.2, noise))
    # 5 % of the greatest current, on the first exponential.
    greatest = current(OPENS)
    start = 2.0 - TAU * math.log(1 - 0.05 * greatest / 5.7)
    wanted = {"start": start, "plunger": PEAK, "latch": LATCH}
    assert found.keys() == {*wanted, "contact"}
    for mark, at in wanted.items():
        assert found[mark] == pytest.approx(at, abs=off), mark
    # It is held until 90 % of it is left: 0.7 ms x ln(1 / 0.9) after the contact opens.
    assert found["contact"] == pytest.approx(OPENS, abs=0.3)


MARKLESS: dict[str, tuple[list[tuple[float, float]], set[str]]] = {
    "nothing": ([], set()),
    "no current": ([(0, 0.0), (5, 0.0)], set()),
    "no dip, and cut off while it is held": ([(0, 0.0), (5, 3.0), (9, 4.0)], {"start"}),
    "no dip": ([(0, 0.0), (5, 3.0), (9, 4.0), (10, 0.0)], {"start", "contact"}),
    "a fall is no dip": ([(0, 0.0), (5, 4.0), (9, 2.0)], {"start", "contact"}),
}


@pytest.mark.parametrize(("points", "marks"), MARKLESS.values(), ids=MARKLESS)
def test_a_mark_that_is_not_there_is_not_made_up(
    points: list[tuple[float, float]], marks: set[str]
) -> None:
    assert coil_marks(points).keys() == marks


def test_what_a_person_set_goes_first() -> None:
    marks = marks_in_force(
        {"start": 1.0, "latch": 11.0}, {"mark_latch_ms": 10.5, "mark_contact_ms": 27.0}
    )
    assert marks == {"start": 1.0, "latch": 10.5, "contact": 27.0}


@pytest.mark.parametrize("way", [1.0, -1.0], ids=["closing", "opening"])
def test_travel_of_a_damped_mass(way: float) -> None:
    stroke, damping, natural = 11.2, 0.5, 0.35  # mm, -, rad/ms
    damped = natural * math.sqrt(1 - damping**2)

    def travel(at: float) -> float:
        decay = math.exp(-damping * natural * at)
        swing = damping / math.sqrt(1 - damping**2) * math.sin(damped * at)
        return stroke * (1 - decay * (math.cos(damped * at) + swing))

    ticks = [0.05 * n for n in range(2001)]
    points = [(at, 20.0 + way * travel(at)) for at in ticks]
    found = travel_figures(points, (0.2 * stroke, 0.8 * stroke))
    assert found is not None
    share = math.exp(-math.pi * damping / math.sqrt(1 - damping**2))
    assert found.stroke == pytest.approx(stroke, rel=1e-4)
    assert found.overtravel == pytest.approx(share * stroke, rel=2e-3)
    assert found.rebound == pytest.approx(share**2 * stroke, rel=2e-2)
    ends = [next(at for at in ticks if travel(at) >= s * stroke) for s in (0.2, 0.8)]
    assert found.speed == pytest.approx(0.6 * stroke / (ends[1] - ends[0]), rel=2e-2)


def test_no_speed_where_the_contact_does_not_pass() -> None:
    points = [(0.0, 0.0), (10.0, 8.0)]
    assert travel_figures(points, (5.0, 9.0)) is not None
    assert travel_figures(points, (5.0, 9.0)).speed is None  # type: ignore[union-attr]
    assert travel_figures([(0.0, 3.0), (9.0, 3.0)], None) is None
