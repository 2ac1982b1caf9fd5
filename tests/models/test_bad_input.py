"""Bad input of each kind: the message says what is wrong, where, and what to do.

One table for what is typed into a field, one for what reaches a rule, one for plates
that contradict each other. Curves have theirs in tests/models/procedures.
"""

from typing import Any

import pytest

from models.errors import InputError
from models.fields import read_value
from models.judging import Criteria, Reading
from models.procedures import Subject, compile_rule, judge
from models.record.lineup_draft import (
    ApparatusDraft,
    CellDraft,
    LineupDraft,
    SectionDraft,
)
from models.record.ratings import ratings_remarks

# field, typed, unit -> words of the refusal
REFUSED: dict[str, tuple[tuple[str, str, str | None], tuple[str, ...]]] = {
    "a limit below zero": (
        ("contact_limit_uohm", "-5", None),
        ("Maker's contact resistance limit", "-5", "above 0"),
    ),
    "an absolute pressure below zero": (
        ("first_kpa", "-3", None),
        ("Pressure, first reading", "-3", "between 0 and 1500 kPa"),
    ),
    "a pressure typed for a voltage": (
        ("test_kv", "2500", "bar"),
        ("Test voltage", "'bar' is none of kV, V"),
    ),
    "a barometer in bar without its unit": (
        ("air_pressure_kpa", "0.99", None),
        ("Air pressure", "0.99", "between 50 and 110 kPa"),
    ),
    "a slope typed as a fraction": (
        ("slope_1_pct", "0.25", None),
        ("First slope", "0.25", "between 2 and 200 %"),
    ),
    "a drop-out typed as a fraction": (
        ("dropout_pct", "0.95", None),
        ("Drop-out, of pickup", "0.95", "between 2 and 200 %"),
    ),
    "no number": (("temperature_c", "warm", None), ("Temperature", "warm")),
}


@pytest.mark.parametrize(("typed", "said"), REFUSED.values(), ids=REFUSED)
def test_a_field_refuses(
    typed: tuple[str, str, str | None], said: tuple[str, ...]
) -> None:
    with pytest.raises(InputError) as refused:
        read_value(*typed)
    (fault,) = refused.value.faults
    assert fault.field == typed[0]
    assert [word for word in said if word not in fault.message] == []


# 32 degF is 0 degC and 1.8 K a degree; 1 bar is 100 kPa (NIST SP 811, appendix B)
TAKEN: dict[str, tuple[tuple[str, str, str | None], float]] = {
    "degrees Fahrenheit": (("temperature_c", "68", "degF"), 20.0),
    "a pressure in bar": (("gas_fill_kpa", "1.5", "bar"), 150.0),
    "a barometer in millibar": (("air_pressure_kpa", "992", "mbar"), 99.2),
    "frost": (("air_temperature_c", "-20", None), -20.0),
    "a characteristic angle that lags": (("rca_deg", "-45", None), -45.0),
    "a background below zero": (("background_db", "-6", None), -6.0),
}


@pytest.mark.parametrize(("typed", "value"), TAKEN.values(), ids=TAKEN)
def test_a_field_takes(typed: tuple[str, str, str | None], value: float) -> None:
    assert read_value(*typed) == pytest.approx(value)


RELAY = {"curve": "ieee_very_inverse", "pickup_a": 320.0, "time_dial": 2.0}
GAS = {"gas": "sf6", "gas_fill_kpa": 150.0, "gas_alarm_kpa": 130.0}
FILLED = {"temperature_c": 20.0, "waited_h": 30.0}
SIZE = {"bolt_diameter_in": 0.55, "bolt_material": "grade_5", "bolt_lubricated": False}
FUSE = {"single_phasing": "three_pole_trip"}
COPPER = {"temperature_c": 20.0, "test_current_a": 100.0}

# procedure, reading, plate, conditions -> words of the reason
UNJUDGED: dict[
    str,
    tuple[str, tuple[str, str], dict[str, Any], dict[str, Any], tuple[str, ...]],
] = {
    "a relay without a curve": (
        "relay_timing",
        ("5.9", "s"),
        {**RELAY, "curve": None},
        {"applied_a": 960.0},
        ("curve is not known", "choose it among the settings of the relay"),
    ),
    "a relay without its constants": (
        "relay_timing",
        ("5.9", "s"),
        {"curve": "ieee_very_inverse"},
        {"applied_a": 960.0},
        ("pickup is not known", "time dial is not known"),
    ),
    "a pressure, and not said which": (
        "gas_density",
        ("46", "kPa"),
        GAS,
        FILLED,
        ("gauge or absolute", "100 kPa apart"),
    ),
    "gauge, without the air": (
        "gas_density",
        ("46", "kPa"),
        GAS,
        {**FILLED, "pressure_as": "gauge"},
        ("that of the air is not known", "read a barometer"),
    ),
    "gauge, typed as absolute": (
        "gas_density",
        ("46", "kPa"),
        GAS,
        {**FILLED, "pressure_as": "absolute"},
        ("is the reading gauge?",),
    ),
    "absolute, typed as gauge": (
        "gas_density",
        ("146", "kPa"),
        GAS,
        {**FILLED, "pressure_as": "gauge", "air_pressure_kpa": 99.2},
        ("is the reading absolute already?",),
    ),
    "a bolt that is no row": (
        "bolt_torque",
        ("48", "lb-ft"),
        {},
        SIZE,
        ("dry SAE 5 bolts has no row for this diameter", "ask the maker"),
    ),
    "a bolt of nothing said": (
        "bolt_torque",
        ("48", "lb-ft"),
        {},
        {"bolt_diameter_in": 0.5},
        ("not said what the bolt is made of",),
    ),
    "a share of gas as a fraction": (
        "gas_purity",
        ("0.985", "%"),
        {"gas": "sf6", "gas_system": "sealed"},
        {"gas_part": "sf6", "waited_h": 30.0},
        ("typed as a fraction of one?", "0.985 %"),
    ),
    "a load as a fraction": (
        "thermography",
        ("2", "K"),
        {},
        {"compare_to": "similar", "load_pct": 0.65},
        ("typed as a fraction of one?", "0.65 %"),
    ),
    "limits that shut out each other": (
        "breaker_timing",
        ("50", "ms"),
        {"close_ms_min": 60.0, "close_ms_max": 45.0},
        {"operation": "close"},
        ("lies above the greatest", "look at the nameplate"),
    ),
}


@pytest.mark.parametrize(
    ("procedure", "typed", "plate", "conditions", "said"),
    UNJUDGED.values(),
    ids=UNJUDGED,
)
def test_a_rule_withholds_its_verdict(
    criteria: Criteria,
    procedure: str,
    typed: tuple[str, str],
    plate: dict[str, Any],
    conditions: dict[str, Any],
    said: tuple[str, ...],
) -> None:
    known = {name: value for name, value in plate.items() if value is not None}
    rule = compile_rule(procedure, Subject(**known), criteria)
    text, unit = typed
    reading = Reading(key="1", text=text, unit=unit, conditions=conditions)
    (judged,) = judge([(rule, reading)])
    assert judged.verdict == "unjudged"
    assert [word for word in said if word not in judged.reason] == []


SIGNS: dict[str, tuple[str, tuple[str, str], dict[str, Any], dict[str, Any]]] = {
    "a resistance": ("contact_resistance", ("-41", "uOhm"), {}, COPPER),
    "a fuse": ("fuse_resistance", ("-1.9", "mOhm"), {}, {}),
    "a time": ("breaker_timing", ("-50", "ms"), {}, {"operation": "close"}),
}


@pytest.mark.parametrize(
    ("procedure", "typed", "plate", "conditions"), SIGNS.values(), ids=SIGNS
)
def test_a_reading_below_zero_is_refused_where_none_can_be(
    criteria: Criteria,
    procedure: str,
    typed: tuple[str, str],
    plate: dict[str, Any],
    conditions: dict[str, Any],
) -> None:
    rule = compile_rule(procedure, Subject(**plate), criteria)
    text, unit = typed
    reading = Reading(key="1", text=text, unit=unit, conditions=conditions)
    with pytest.raises(InputError, match="cannot be negative: check the sign"):
        judge([(rule, reading)])


def test_a_reading_below_zero_is_taken_where_it_can_be(criteria: Criteria) -> None:
    """-46 degrees at the boundary that lies at -45: an angle has a sign."""
    rule = compile_rule("relay_angle", Subject(rca_deg=45.0), criteria)
    known = {"boundary": "minus_90"}
    reading = Reading(key="1", text="-46", unit="deg", conditions=known)
    (judged,) = judge([(rule, reading)])
    assert judged.verdict == "within"


RATED = {"rated_kv": 15.0, "rated_withstand_kv": 36.0, "rated_impulse_kv": 95.0}
# plate of a breaker in gear of 15 kV, 40 kA, 60 Hz -> the field, and what is said
CONFLICTS: dict[str, tuple[dict[str, Any], str, tuple[str, ...]]] = {
    "rated for a lower voltage": (
        {"rated_kv": 8.25},
        "rated_kv",
        ("52-1", "8.25 kV", "15 kV"),
    ),
    "breaks less than the gear": (
        {"rated_ka": 25.0},
        "rated_ka",
        ("52-1", "25 kA", "40 kA"),
    ),
    "of another frequency": ({"rated_hz": 50.0}, "rated_hz", ("50 Hz", "60 Hz")),
}


@pytest.mark.parametrize(("plate", "place", "said"), CONFLICTS.values(), ids=CONFLICTS)
def test_plates_that_contradict_the_gear_are_said(
    plate: dict[str, Any], place: str, said: tuple[str, ...]
) -> None:
    breaker = ApparatusDraft(kind="breaker", label="52-1", plate=plate)
    cell = CellDraft(
        name="Pump", number="1", kind="breaker", bus="A", apparatus=[breaker]
    )
    draft = LineupDraft(
        name="SG",
        gear="metal_clad",
        ratings={**RATED, "rated_ka": 40.0, "rated_hz": 60.0},
        sections=[SectionDraft(name="A", rated_a=1200.0)],
        cells=[cell],
    )
    remarks = [one for one in ratings_remarks(draft) if one.place.endswith(place)]
    sentences = [one.text for one in remarks if said[0] in one.text]
    assert len(sentences) == 1
    assert [word for word in said if word not in sentences[0]] == []
