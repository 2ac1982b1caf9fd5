"""Rounds compared point by point: what a change is, and which way is worse."""

from math import inf, isnan, log
from typing import Any

import pandas as pd
import pytest

from models.analysis.round_frames import (
    changes_since,
    compare_rounds,
    points_frame,
    round_frame,
    rounds_frame,
)

WORSE = {"insulation": "lower", "contact": "higher", "relay": "away"}
PLACE = ("breaker 52", "contact", "closed", "pole A")
READING = {
    "at": "2026-03-02T10:00:00Z",
    "text": "10",
    "unit": "uOhm",
    "value": 10.0,
    "uncertainty": None,
    "verdict": "within",
    "value_unit": "uOhm",
    "over_range": False,
    "under_range": False,
}
Value = dict[str, Any] | None


def reading(**given: Any) -> dict[str, Any]:
    return READING | given


def point(place: tuple[str, ...] = PLACE) -> dict[str, Any]:
    names = ("apparatus_id", "procedure", "detail", "point")
    identity = {"maker": None, "type": None, "serial": "V-52", "built_year": 2023}
    there = {"cell": "1", "apparatus": "52"}
    return dict(zip(names, place, strict=True)) | there | identity


def compared(latest: Value, base: Value, procedure: str = "contact") -> pd.Series:
    place = (PLACE[0], procedure, *PLACE[2:])
    values = [round_frame({place: one} if one else {}) for one in (base, latest)]
    table = compare_rounds(points_frame([point(place)]), *values, WORSE)
    (row,) = (row for _, row in table.iterrows())
    return row


CHANGES: dict[str, tuple[Value, Value, float | None]] = {
    "higher": (reading(value=12.0), reading(), 20.0),
    "lower": (reading(value=5.0), reading(), -50.0),
    "the same": (reading(), reading(), 0.0),
    "down to nothing": (reading(value=0.0), reading(), -100.0),
    "from nothing": (reading(), reading(value=0.0), None),
    "the least number there is": (reading(value=1e300), reading(value=5e-324), inf),
    "an over-range reading": (reading(over_range=True), reading(), None),
    "an over-range baseline": (reading(), reading(over_range=True), None),
    "an under-range reading": (reading(under_range=True), reading(), None),
    "an outcome": (reading(value=None), reading(), None),
    "a baseline that is an outcome": (reading(), reading(value=None), None),
    "no baseline": (reading(), None, None),
    "no reading": (None, reading(), None),
    "neither": (None, None, None),
}


@pytest.mark.parametrize(("latest", "base", "pct"), CHANGES.values(), ids=CHANGES)
def test_a_change_is_of_numbers(latest: Value, base: Value, pct: float | None) -> None:
    found = compared(latest, base)["change_pct"]
    assert isnan(found) if pct is None else found == pytest.approx(pct)


WRONG_WAY: dict[str, tuple[str, float, float | None]] = {
    "insulation that falls": ("insulation", 5.0, log(2)),
    "insulation that rises": ("insulation", 20.0, -log(2)),
    "a contact that rises": ("contact", 20.0, log(2)),
    "a contact that falls": ("contact", 5.0, -log(2)),
    "a relay that is late": ("relay", 20.0, log(2)),
    "a relay that is early": ("relay", 5.0, log(2)),
    "nothing that is left": ("insulation", 0.0, None),
}


@pytest.mark.parametrize(
    ("procedure", "value", "worse"), WRONG_WAY.values(), ids=WRONG_WAY
)
def test_the_wrong_way_is_the_procedure_s(
    procedure: str, value: float, worse: float | None
) -> None:
    found = compared(reading(value=value), reading(), procedure)["worse"]
    assert isnan(found) if worse is None else found == pytest.approx(worse)


def test_a_point_stands_beside_its_own_reading_and_in_its_place() -> None:
    """In the order of the points; a reading without a point is left out."""
    places = [(*PLACE[:3], f"pole {pole}") for pole in "CAB"]
    base = {place: reading(text=place[3]) for place in reversed(places)}
    latest = {places[1]: reading(text="A again"), ("52", *PLACE[1:]): reading()}
    table = compare_rounds(
        points_frame([point(place) for place in places]),
        round_frame(base),
        round_frame(latest),
        WORSE,
    )
    assert list(table["baseline_text"]) == ["pole C", "pole A", "pole B"]
    assert list(table["latest_text"].fillna("")) == ["", "A again", ""]
    assert table["change_pct"].notna().tolist() == [False, True, False]


def test_rounds_without_a_point_are_an_empty_table() -> None:
    nothing = round_frame({})
    assert len(compare_rounds(points_frame([]), nothing, nothing, WORSE)) == 0


def test_changes_are_since_the_baseline_round_whichever_it_is() -> None:
    mate = (*PLACE[:3], "pole B")
    rounds = rounds_frame(
        [
            (1, {PLACE: reading(value=8.0), mate: reading(value=1.0)}),
            (2, {PLACE: reading(value=10.0)}),
            (3, {PLACE: reading(value=15.0), mate: reading(value=3.0)}),
        ]
    )
    found = changes_since(rounds, 2)
    assert found.round(9).astype(object).where(found.notna(), None).tolist() == [
        -20.0,
        None,  # the mate was not read for the baseline
        None,  # the baseline itself
        50.0,
        None,
    ]
    assert changes_since(rounds, None).isna().all()
