"""Altitude: thin air holds less; the field test level is not raised for it."""

from bisect import bisect_right
from collections.abc import Iterator
from typing import Any

from models.judging.notes.placing import Made, value_of
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.wording import figure, plain
from models.words import say as sentence


def make(criteria: Criteria, altitude_m: float | None) -> Made | None:
    """Return the note for gear above the normal limit of altitude; else None."""
    limits = criteria.table("altitude_exponents")
    normal_m, _ = value_of(limits, "normal service limit")
    if altitude_m is None or altitude_m <= normal_m:
        return None
    table = criteria.table("altitude_c37")
    points = [[row["altitude_m"], row["voltage"]] for row in table.rows]
    source = table.cite_column("voltage", "")
    note = {"say": "altitude", "altitude_m": altitude_m, "points": points}
    return Made(note, [source])


def say(_state: State, note: Note) -> Iterator[str]:
    """Say what is left of the rating of external air insulation."""
    altitude_m, points = note["altitude_m"], note["points"]
    last_m = points[-1][0]
    if altitude_m > last_m:
        yield sentence(
            "altitude.beyond", altitude=plain(altitude_m), last=plain(last_m)
        )
    elif altitude_m >= points[0][0]:
        share = _left(points, altitude_m)
        yield sentence("altitude", altitude=plain(altitude_m), share=share)


def _left(points: list[Any], altitude_m: float) -> str:
    """Return the share, joined linearly between two rows, and how it was found."""
    at = bisect_right([point[0] for point in points], altitude_m) - 1
    low_m, low = points[at]
    if low_m == altitude_m:
        return plain(low)
    high_m, high = points[at + 1]
    share = low + (high - low) * (altitude_m - low_m) / (high_m - low_m)
    return sentence(
        "altitude.between",
        low=plain(low),
        high=plain(high),
        altitude=plain(altitude_m),
        low_m=plain(low_m),
        high_m=plain(high_m),
        share=figure(share),
    )
