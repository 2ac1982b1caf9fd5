"""What the readings of a card lie on: a relay's curve, a characteristic, a circle."""

from typing import Any, NamedTuple

from markupsafe import Markup

from models.services.turnover.card_record import CardRecord
from webapp.drawing import (
    Timed,
    characteristic,
    dial,
    fit_lines,
    on_card,
    svg,
    time_current,
)


class CardDrawing(NamedTuple):
    """The drawing with its name, and the sentences of the fit."""

    title: str
    drawing: Markup
    fit: list[str]


def card_drawing(record: CardRecord) -> CardDrawing | None:
    """Return the drawing; None for a card whose rule has none."""
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
        return _placed(rule, record)
    return CardDrawing(drawn.title, Markup(svg(drawn)), fit_lines(rule, timed))  # noqa: S704 (escaped there)


def _placed(rule: dict[str, Any], record: CardRecord) -> CardDrawing | None:
    read = [
        on_card(point["label"], reading)
        for point in record.points
        for reading in point["readings"]
        if not reading["superseded_by"]
    ]
    label = record.card["apparatus"]["label"]
    drawn = characteristic(
        rule, read, title=f"Characteristic of {label}", width=640.0, height=320.0
    ) or dial(rule, read, title=f"Angles of {label}", width=640.0, height=320.0)
    if drawn is None:
        return None
    return CardDrawing(drawn.title, Markup(svg(drawn)), [])  # noqa: S704 (escaped there)


def _timed(label: str, reading: dict[str, Any]) -> Timed:
    return Timed(
        label=label,
        applied_a=float(reading["conditions"]["applied_a"]),
        seconds=reading["judgement"]["corrected"],
        verdict=reading["judgement"]["verdict"],
        exact=not reading["text"].strip().startswith((">", "<")),
        pickup_a=reading["conditions"].get("measured_pickup_a"),
    )
