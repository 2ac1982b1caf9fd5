"""Rows of readings as pages and sheets say them."""

from typing import Any

import pytest

from webapp.words.read_rows import rows_of

COIL = "0:0 2:0.2 5:1.9 8:3.4 11:4.4 13:3.6 15:3.1 18:3.9 24:5 40:5.7 44:5.7 48:0.1"


# A record has its numbers as numbers, a frozen document as text.
@pytest.mark.parametrize("by_hand", [2.5, "2.5"], ids=["record", "package"])
def test_a_mark_set_by_hand_goes_before_the_found_one(by_hand: float | str) -> None:
    conditions: dict[str, Any] = {"coil_record": COIL, "mark_start_ms": by_hand}
    (row,) = rows_of({"conditions": conditions, "unit": "A"}, {})
    assert row.marks == {"start": 2.5, "plunger": 11.0, "latch": 15.0, "contact": 44.0}
    assert row.quotients[0] == ("start", "2.500 ms")


def test_pressures_are_drawn_over_their_span() -> None:
    log = {"gas_log": "0:151.2 100:151.1 200:151.0"}
    (row,) = rows_of({"conditions": log, "unit": "kPa"}, {})
    drawn = row.curve()
    assert drawn is not None
    ticks = {item.text for item in drawn.items if getattr(item, "text", "")}
    assert {"151", "151.1", "151.2"} <= ticks
