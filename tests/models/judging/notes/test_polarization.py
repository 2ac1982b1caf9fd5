"""Polarization index and absorption ratio beside a verdict."""

import pytest

from models.judging import Criteria
from models.judging.notes import polarization
from tests.models.judging.notes.noted import said

GOOD = {"temperature_c": 20.0, "test_kv": 2.5}
INFORMATION = (
    "These ratios are information: the absorption current of air-insulated bus and "
    "vacuum breakers dies in seconds. No verdict rests on them."
)


def test_ratios_are_shown_with_the_trades_words(criteria: Criteria) -> None:
    assert said(
        polarization.make(criteria), "3.0", timed="15:1.2 30:2.1 60:3.0 600:5.5", **GOOD
    ) == [
        "Polarization index: 5.5 (600 s) / 3.0 (60 s) = 1.83, 'unreliable or "
        "questionable' in the trade's bands.",
        "Absorption ratio: 3.0 (60 s) / 2.1 (30 s) = 1.43, 'good enough' in the "
        "trade's bands.",
        INFORMATION,
    ]


# The row, the reading, what one of the sentences has. Bands: insulation tester manual.
CASES: dict[str, tuple[str, str, str]] = {
    "below one": ("60:3 600:2.9", "3", "= 0.967, 'bad' in"),
    "one": ("60:3 600:3", "3", "= 1.00, 'unreliable or questionable' in"),
    "two": ("60:3 600:6", "3", "= 2.00, 'good enough' in"),
    "four": ("60:3 600:12", "3", "= 4.00, 'excellent' in"),
    "in the gap": ("30:3 60:3.9", "3.9", "= 1.30, in none of the trade's bands."),
    "over range at last": (
        "60:3 600:>10",
        "3",
        ">10 (600 s) / 3 (60 s) = at least 3.33.",
    ),
    "over range at first": ("60:>3 600:6", ">3", "= at most 2.00."),
    "over range in both": ("60:>3 600:>3", ">3", "no ratio can be formed"),
    "no minute": ("30:2 600:6", "3", "no ratio can be formed; 60 s with 30 s or with"),
    "a first of nothing": ("60:0 600:6", "0", "no ratio can be formed"),
    "another after a minute": (
        "30:2 60:3.1",
        "3.0",
        "after 60 s 3.1 GΩ, but the reading is 3.0 GΩ. Check which was meant.",
    ),
    "a bound after a minute": ("30:2 60:>3", "3", "after 60 s >3 GΩ, but the reading"),
    "not to be read": ("60:3,1", "3", "Readings over time: the row cannot be read."),
}


@pytest.mark.parametrize(("timed", "text", "wanted"), CASES.values(), ids=CASES)
def test_what_is_said(criteria: Criteria, timed: str, text: str, wanted: str) -> None:
    lines = said(polarization.make(criteria), text, timed=timed, **GOOD)
    assert any(wanted in line for line in lines), lines


@pytest.mark.parametrize("text", ["3.0", "3", "3.00", " 3.0 "])
def test_the_same_number_is_no_difference(criteria: Criteria, text: str) -> None:
    lines = said(polarization.make(criteria), text, timed="30:2 60:3.0", **GOOD)
    assert not any("meant" in line for line in lines)


def test_above_five_gigohms_the_index_has_no_meaning(criteria: Criteria) -> None:
    # IEEE 43 by a forum summary: 5000 MOhm at 40 degC, where the solid column has 2.50.
    made = polarization.make(criteria)
    below = said(made, "12.5", timed="60:12.5 600:13", **GOOD)
    above = said(made, "12.6", timed="60:12.6 600:13", **GOOD)
    assert not any("no meaning" in line for line in below)
    assert (
        "At 40 °C the resistance after 60 s would be 12.60 GΩ / 2.500 = 5.040 GΩ, "
        "above 5.000 GΩ: the index has no meaning there."
    ) in above


def test_without_a_temperature_nothing_is_brought_to_forty_degrees(
    criteria: Criteria,
) -> None:
    made = polarization.make(criteria)
    lines = said(made, "90", timed="60:90 600:99", test_kv=2.5)
    assert not any("no meaning" in line for line in lines)
    assert lines[-1] == INFORMATION


def test_nothing_is_said_without_readings_over_time(criteria: Criteria) -> None:
    assert said(polarization.make(criteria), **GOOD) == []
