"""Rows of readings for people: what was read at each step, and what it comes to."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from models.judging.quantities import said_unit
from models.judging.record_marks import coil_marks, marks_in_force, travel_figures
from models.judging.series import (
    COIL_CURRENT,
    EXCITATION,
    FALL,
    SERIES,
    TRAVEL,
    Series,
    Step,
    absorption_ratio,
    parse_series,
    polarization_index,
    ratio_of,
)
from models.judging.values import Interval
from models.judging.wording import figure, plain
from models.words import say
from webapp.drawing.figures import number
from webapp.drawing.series_curve import (
    HEIGHT,
    MOST_MARKED,
    WIDTH,
    Row,
    series_curve,
    step_words,
)
from webapp.drawing.shapes import Drawing
from webapp.words.row_lines import flat_band, places_read


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadRow:
    """A row of one reading; *unit* is that of what was shown."""

    series: Series
    steps: Sequence[Step]
    unit: str
    conditions: Mapping[str, Any] = field(default_factory=dict)  # of the reading
    rule: Mapping[str, Any] = field(default_factory=dict)  # that judged it, as JSON

    @property
    def marks(self) -> dict[str, float]:
        """What the rule reads off a row; of a coil's current its marks.

        Those that a person set go before found ones.
        """
        if self.series is not COIL_CURRENT:
            return places_read(self.rule, self.series, self.steps, self.conditions)
        by_hand = {name: number(self.conditions, name) for name in self.series.marks}
        return marks_in_force(coil_marks(_points(self.steps)), _known(by_hand))

    @property
    def values(self) -> list[tuple[str, str]]:
        """Each step and what was shown there, with their units; none of a record."""
        unit = said_unit(self.unit)
        if len(self.steps) > MOST_MARKED:
            return []
        return [(step_words(self.series, s), f"{s.text} {unit}") for s in self.steps]

    @property
    def quotients(self) -> list[tuple[str, str]]:
        """What the row comes to."""
        if self.series is COIL_CURRENT:
            return [
                (say(f"mark.{m}"), f"{figure(at)} ms") for m, at in self.marks.items()
            ]
        return quotients(self.series, self.steps)

    def curve(self, width: float = WIDTH, height: float = HEIGHT) -> Drawing | None:
        """Return the row drawn; None where there are no two readings to join."""
        return series_curve(
            self.series,
            [
                Row(
                    steps=self.steps,
                    marks=self.marks,
                    band=flat_band(self.rule, self.series, self.conditions),
                )
            ],
            self.unit,
            width=width,
            height=height,
        )


def rows_of(reading: Mapping[str, Any], rule: Mapping[str, Any]) -> list[ReadRow]:
    """Return the rows that a reading carries; *rule*, as JSON, is that of its point."""
    return [
        ReadRow(
            series=series,
            steps=parse_series(name, str(reading["conditions"][name])),
            unit=series.unit or reading["unit"] or "",
            conditions=reading["conditions"],
            rule=rule,
        )
        for name, series in SERIES.items()
        if reading["conditions"].get(name)
    ]


def quotients(series: Series, steps: Sequence[Step]) -> list[tuple[str, str]]:
    """Return (label, figure) of each quotient that can be formed."""
    if series.name == "timed":
        both = (
            ("Absorption ratio, 60 s over 30 s", absorption_ratio(steps)),
            ("Polarization index, 10 min over 1 min", polarization_index(steps)),
        )
        return [(label, ratio_words(ratio)) for label, ratio in both if ratio]
    if series is TRAVEL:
        return _travelled(steps)
    if len(steps) < 2 or series in (COIL_CURRENT, EXCITATION, FALL):
        return []
    first, last = steps[0], steps[-1]
    ends = f"{plain(last.at)} over {plain(first.at)} {series.step_unit}"
    shown = ratio_of(steps, last.at, first.at)
    found = [(f"{series.label} at {ends}", ratio_words(shown))] if shown else []
    if series.name == "leakage":
        return [(f"Voltage, {ends}", figure(last.at / first.at, 3)), *found]
    return found


def _known(marks: Mapping[str, float | None]) -> dict[str, float]:
    return {name: at for name, at in marks.items() if at is not None}


def _points(steps: Sequence[Step]) -> list[tuple[float, float]]:
    return [(step.at, step.value.bound) for step in steps]


def _travelled(steps: Sequence[Step]) -> list[tuple[str, str]]:
    found = travel_figures(_points(steps), None)
    if found is None:
        return []
    return [
        ("Stroke", f"{figure(found.stroke)} mm"),
        ("Overtravel", f"{figure(found.overtravel)} mm"),
        ("Rebound", f"{figure(found.rebound)} mm"),
    ]


def ratio_words(ratio: Interval) -> str:
    """Return a quotient in words: 1.43, at least 2.10."""
    side = "" if ratio.exact else ("at least " if ratio.high is None else "at most ")
    return f"{side}{figure(ratio.bound, 3)}"
