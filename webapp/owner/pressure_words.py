"""The time left to a vacuum interrupter's pressure limit, in words."""

from models.analysis.pressure_trend import (
    LEVEL,
    TIMES_OBSERVED,
    PressureTrend,
    TimeLeft,
)
from models.judging.wording import figure, plain

LEAST = 0.05  # years: below three weeks it is now
WHOLE_FROM = 10.0  # years: from here on a fraction says too much


def left_words(found: PressureTrend) -> str:
    """Return the time left in one phrase: about 1.8 years (1.3 to 2.5)."""
    if found.line is None or found.left is None:
        return "no time is given"
    horizon = years(found.line.horizon)
    left = found.left
    if left.about is None:
        later = f"; not ruled out from {years(left.earliest)} years on"
        return f"more than {horizon} years{later if left.earliest is not None else ''}"
    about = f"about {years(left.about)} years"
    if found.line.half is None:
        return about
    latest = f"beyond {horizon}" if left.latest is None else years(left.latest)
    return f"{about} ({years(left.earliest or 0.0)} to {latest})"


def years(value: float | None) -> str:
    """Return years with two digits: 0.9, 1.8, 14."""
    if value is None:
        return "–"
    if value >= WHOLE_FROM:
        return f"{value:.0f}"
    return plain(float(figure(value, 2))) if value >= LEAST else "0"


def assumptions(found: PressureTrend) -> list[str]:
    """Return what the line and its time rest on, a sentence each."""
    line = found.line
    if line is None:
        return []
    said = [
        f"A straight line of the pressure's logarithm against time, by least squares "
        f"over {line.rounds} rounds in {years(line.observed)} years: it assumes a rise "
        "by the same factor every year (common practice).",
        _slope(found),
        f"It is carried no further than {plain(TIMES_OBSERVED)} times the time "
        f"observed, {years(line.horizon)} years.",
    ]
    if found.left is not None:
        said.append(_constant_leak(found.left, years(line.horizon)))
    return said


def _slope(found: PressureTrend) -> str:
    line = found.line
    assert line is not None
    factor = figure(10**line.slope, 3)
    said = f"Slope {figure(line.slope, 3)} decades a year, which is × {factor} a year"
    if line.slope_u is None:
        return f"{said}. Two rounds give a line and no uncertainty."
    return (
        f"{said}; standard uncertainty of the slope {figure(line.slope_u, 2)} decades "
        f"a year. The range holds with {plain(100 * LEVEL)} %, from the scatter about "
        "the line (Student's t) or the instrument's U, whichever is wider."
    )


def _constant_leak(left: TimeLeft, horizon: str) -> str:
    time = f"more than {horizon} years"
    if left.constant_leak is not None:
        time = f"{years(left.constant_leak)} years"
    return (
        "Were the leak constant, (limit − P₂) over (P₂ − P₁) a year between the first "
        f"and the last reading (common practice): {time}. Take the shorter."
    )
