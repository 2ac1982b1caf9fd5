"""The time-current curve of a relay card, with what was measured and what it fits."""

from typing import Any, NamedTuple

from markupsafe import Markup

from models.services.turnover.card_record import CardRecord
from webapp.drawing import Timed, fit_lines, svg, time_current


class TimingCurve(NamedTuple):
    """The drawing, and the sentences of the fit."""

    drawing: Markup
    fit: list[str]


def timing_curve(record: CardRecord) -> TimingCurve | None:
    """Return the curve; None for a card of another procedure."""
    timed = [
        _timed(point["label"], reading)
        for point in record.points
        for reading in point["readings"]
        if not reading["superseded_by"] and reading["conditions"].get("applied_a")
    ]
    rule = record.points[0]["rule"]
    drawn = time_current(
        rule,
        timed,
        title=f"Time-current curve of {record.card['apparatus']['label']}",
        width=640.0,
        height=320.0,
    )
    if drawn is None:
        return None
    return TimingCurve(Markup(svg(drawn)), fit_lines(rule, timed))  # noqa: S704 (escaped there)


def _timed(label: str, reading: dict[str, Any]) -> Timed:
    return Timed(
        label=label,
        applied_a=float(reading["conditions"]["applied_a"]),
        seconds=reading["judgement"]["corrected"],
        verdict=reading["judgement"]["verdict"],
        exact=not reading["text"].strip().startswith((">", "<")),
        pickup_a=reading["conditions"].get("measured_pickup_a"),
    )
