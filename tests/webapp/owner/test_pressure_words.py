"""The time left in words: about, from, to, and what is not said."""

from datetime import date

import pytest

from models.analysis.pressure_trend import Line, PressureTrend, TimeLeft
from webapp.owner.pressure_words import assumptions, left_words, years


def line(half: float | None) -> Line:
    """Return a line through three rounds in two years: a decade in four years."""
    return Line(
        first=date(2024, 1, 1),
        last=date(2026, 1, 1),
        rounds=3 if half is not None else 2,
        mean_years=1.0,
        mean_log=-3.5,
        sum_squares=2.0,
        slope=0.25,
        slope_u=0.05 if half is not None else None,
        half=half,
    )


def trend(
    about: float | None,
    earliest: float | None = None,
    latest: float | None = None,
    half: float | None = 0.1,
) -> PressureTrend:
    left = TimeLeft(about=about, earliest=earliest, latest=latest, constant_leak=None)
    return PressureTrend(line=line(half), left=left, reason="")


SAID: dict[str, tuple[PressureTrend, str]] = {
    "a range": (trend(5.6, 3.1, 14.2), "about 5.6 years (3.1 to 14)"),
    "no later end": (trend(5.6, 3.1), "about 5.6 years (3.1 to beyond 6)"),
    "perhaps now": (trend(0.9, 0.0, 2.0), "about 0.9 years (0 to 2)"),
    "two rounds": (trend(4.0, half=None), "about 4 years"),
    "beyond the horizon": (trend(None), "more than 6 years"),
    "beyond it, and not for certain": (
        trend(None, 3.5),
        "more than 6 years; not ruled out from 3.5 years on",
    ),
    "none": (PressureTrend(line=None, left=None, reason="why"), "no time is given"),
}


@pytest.mark.parametrize(("found", "words"), SAID.values(), ids=SAID)
def test_the_phrase(found: PressureTrend, words: str) -> None:
    assert left_words(found) == words


def test_years_have_two_digits() -> None:
    said = [years(n) for n in (0.0, 0.049, 0.05, 0.94, 1.0, 9.96, 10.4, 120.0, None)]
    assert said == ["0", "0", "0.05", "0.94", "1", "10", "10", "120", "–"]


def test_what_it_rests_on_is_said() -> None:
    whole = " ".join(assumptions(trend(5.6, 3.1, 14.2)))
    assert "3 rounds in 2 years" in whole
    assert "Slope 0.250 decades a year, which is × 1.78 a year" in whole
    assert "standard uncertainty of the slope 0.050" in whole
    assert "90 %" in whole
    assert "3 times the time observed, 6 years" in whole
    assert "Were the leak constant" in whole and "more than 6 years" in whole
    two = " ".join(assumptions(trend(4.0, half=None)))
    assert "Two rounds give a line and no uncertainty." in two
    assert "90 %" not in two
    assert assumptions(PressureTrend(line=None, left=None, reason="why")) == []
