"""The note on external insulation high above the sea."""

import pytest

from models.judging import Criteria
from models.judging.notes import altitude
from tests.models.judging.notes.noted import said

# By hand: between 1500 m (0.95) and 3000 m (0.80) a tenth of the way is 0.015.
CASES: dict[str, tuple[float | None, str | None]] = {
    "not known": (None, None),
    "below the sea": (-400.0, None),
    "at the normal limit": (1000.0, None),
    "a little above it": (1250.0, "(1500 − 1000) = 0.9750 of its rated voltage"),
    "at a row": (1500.0, "at 1500 m external air insulation holds 0.95 of its rated"),
    "between rows": (
        2000.0,
        "0.95 + (0.8 − 0.95) × (2000 − 1500) / (3000 − 1500) = 0.9000 of its",
    ),
    "at the last row": (3000.0, "holds 0.8 of its rated voltage"),
    "above the table": (3001.0, "3001 m is above the last row of the table, 3000 m"),
}


@pytest.mark.parametrize(("altitude_m", "wanted"), CASES.values(), ids=CASES)
def test_what_is_said(
    criteria: Criteria, altitude_m: float | None, wanted: str | None
) -> None:
    lines = said(altitude.make(criteria, altitude_m))
    assert len(lines) == (wanted is not None)
    assert wanted is None or wanted in lines[0]


def test_the_level_is_never_said_to_rise(criteria: Criteria) -> None:
    (line,) = said(altitude.make(criteria, 2000.0))
    assert "The field test level is not raised for it" in line
