"""Travel, speed, charging and power factor against figures of the instruction book.

U of a stated half-width of 0.1 mm is 2 x 0.1 / sqrt(3) = 0.11547 mm (JCGM 100:2008,
4.3.7). 15 s for the spring is a maker's print; nothing else published is used.
"""

import pytest

from models.errors import InputError
from models.judging import Accuracy, Criteria, Reading, Verdict, check_reading
from models.procedures import PROCEDURES, Subject, compile_rule, judge

W, M, X, U = Verdict.WITHIN, Verdict.MARGINAL, Verdict.OUTSIDE, Verdict.UNJUDGED
TENTH = Accuracy(0.0, 0.1, "mm")


def found(
    criteria: Criteria,
    procedure: str,
    text: str,
    unit: str,
    plate: dict[str, float],
    accuracy: Accuracy | None = None,
    **conditions: object,
) -> tuple[Verdict, str]:
    rule = compile_rule(procedure, Subject(**plate), criteria)
    reading = Reading(
        key="", text=text, unit=unit, accuracy=accuracy, conditions=conditions
    )
    (judged,) = judge([(rule, reading)])
    return judged.verdict, judged.reason


STROKE = {"stroke_mm_min": 10.5, "stroke_mm_max": 12.5}
STROKES = {
    "well inside": ("11.2", W),
    "inside by U": ("12.38", W),
    "within U of the greatest": ("12.4", M),
    "beyond it by U": ("12.62", X),
    "within U of the least": ("10.45", M),
    "too short": ("10.3", X),
}


@pytest.mark.parametrize(("text", "verdict"), STROKES.values(), ids=STROKES)
def test_a_stroke(criteria: Criteria, text: str, verdict: Verdict) -> None:
    one = found(criteria, "contact_travel", text, "mm", STROKE, TENTH, measure="stroke")
    assert one[0] is verdict


def test_a_measure_without_a_figure_says_where_it_is_entered(
    criteria: Criteria,
) -> None:
    verdict, reason = found(
        criteria, "contact_travel", "4", "mm", STROKE, measure="wipe"
    )
    assert (verdict, "enter it on the nameplate" in reason) == (U, True)


# procedure, plate, conditions, unit, and a reading for each verdict
OTHERS: dict[str, tuple[str, dict[str, float], dict[str, object], str, str, str]] = {
    "speed": (
        "contact_speed",
        {"speed_open_mps_min": 0.9, "speed_open_mps_max": 1.4},
        {"operation": "open"},
        "m/s",
        "1.4",
        "0.89",
    ),
    "speed in ft/s": (
        "contact_speed",
        {"speed_close_mps_min": 0.8},
        {"operation": "close"},
        "ft/s",
        "2.63",  # 0.8016 m/s
        "2.62",  # 0.7986 m/s
    ),
    "charging, a maker's print": ("spring_charging", {}, {}, "s", "15", "15.1"),
    "charging, this maker": (
        "spring_charging",
        {"charge_s_max": 10.0},
        {},
        "s",
        "10",
        "10.1",
    ),
    "power factor": (
        "power_factor",
        {"power_factor_limit_pct": 0.5},
        {"test_kv": 10.0, "temperature_c": 22.0},
        "%",
        "0.5",
        "0.51",
    ),
}


@pytest.mark.parametrize("name", OTHERS)
def test_within_and_outside(criteria: Criteria, name: str) -> None:
    procedure, plate, conditions, unit, good, bad = OTHERS[name]
    verdicts = [
        found(criteria, procedure, text, unit, plate, None, **conditions)[0]
        for text in (good, bad)
    ]
    assert verdicts == [W, X]


def test_a_power_factor_belongs_to_a_voltage_and_a_temperature(
    criteria: Criteria,
) -> None:
    verdict, reason = found(
        criteria, "power_factor", "0.3", "%", {"power_factor_limit_pct": 0.5}
    )
    assert verdict is U
    assert "test voltage is not known" in reason
    assert "temperature of the insulation is not known" in reason


@pytest.mark.parametrize(
    ("procedure", "unit"), [("contact_travel", "mm"), ("power_factor", "%")]
)
def test_nothing_of_it_is_negative(procedure: str, unit: str) -> None:
    with pytest.raises(InputError):
        check_reading(PROCEDURES[procedure], "-1", unit)
