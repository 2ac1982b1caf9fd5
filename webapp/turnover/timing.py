"""The time-current curve of a relay card, with what was measured."""

from markupsafe import Markup

from models.services.card_record import CardRecord
from webapp.drawing import Timed, svg, time_current


def timing_curve(record: CardRecord) -> Markup:
    """Return the curve; nothing for a card of another procedure."""
    timed = [
        Timed(
            label=point["label"],
            applied_a=float(reading["conditions"]["applied_a"]),
            seconds=reading["judgement"]["corrected"],
            verdict=reading["judgement"]["verdict"],
        )
        for point in record.points
        for reading in point["readings"]
        if not reading["superseded_by"] and reading["conditions"].get("applied_a")
    ]
    drawn = time_current(
        record.points[0]["rule"],
        timed,
        title=f"Time-current curve of {record.card['apparatus']['label']}",
        width=640.0,
        height=320.0,
    )
    return Markup(svg(drawn)) if drawn else Markup()  # noqa: S704 (escaped there)
