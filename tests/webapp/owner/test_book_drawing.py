"""The rows of a point over the rounds, drawn: the newest with its marks."""

from datetime import UTC, datetime
from typing import Any

from models.judging.series import SERIES, parse_series
from models.services.owner.trends import RowSeen
from tests.data.cases_words_rows import CURVE
from webapp.owner.book_drawing import rows_picture

KNEE: dict[str, Any] = {
    "derive": [
        {
            "name": "knee",
            "op": "knee",
            "by": "rise",
            "step_pct": 10.0,
            "value_pct": 50.0,
            "series": "excitation",
        }
    ]
}
COIL = "0:0 2:0.2 5:1.9 8:3.4 11:4.4 13:3.6 15:3.1 18:3.9 24:5 40:5.7 44:5.7 48:0.1"


def seen(kind: str, text: str, year: int) -> RowSeen:
    return RowSeen(
        round_title=f"Round of {year}",
        at=datetime(year, 3, 3, tzinfo=UTC),
        series=SERIES[kind],
        steps=parse_series(kind, text),
        unit=SERIES[kind].unit,
    )


def test_the_newest_curve_has_its_knee_beside_the_baseline() -> None:
    rows = [seen("excitation", CURVE, 2027), seen("excitation", CURVE, 2026)]
    drawn = str(rows_picture(rows, "UTC", KNEE))
    assert drawn.count("knee +10 % V, +50 % A</text>") == 1
    assert ">2026</text>" in drawn
    assert ">2027</text>" in drawn


def test_the_newest_record_has_its_marks() -> None:
    later = COIL.replace("11:4.4", "12:4.5")
    rows = [seen("coil_record", later, 2027), seen("coil_record", COIL, 2026)]
    drawn = str(rows_picture(rows, "UTC", {}))
    for mark in ("start", "plunger", "latch", "contact"):
        assert drawn.count(f">{mark}</text>") == 1
