"""The calculator gives what the judging core gives, and keeps what was typed."""

from collections.abc import Iterable
from typing import Any
from urllib.parse import urlencode

import pytest

from models.fields import field
from models.judging import Accuracy, Criteria, Reading, Rule
from models.judging.rules import cite_words
from models.judging.series import SERIES
from models.procedures import PROCEDURES, Subject, compile_rule, judge
from tests.webapp.desk import Page, Visitor
from webapp.library.calculator import procedure_named, work_out
from webapp.words.reading_globals import corrected

IR, CR, VI = "insulation_resistance", "contact_resistance", "vacuum_integrity"
RT, DW = "relay_timing", "dielectric_withstand"
COPPER = {"conductor": "copper", "limit": "60", "unit": "uOhm"}
BENCH = {"temperature_c": "14", "test_current_a": "100"}
VERY_INVERSE = {"curve": "ieee_very_inverse", "pickup_a": "480", "time_dial": "2"}

# name -> (procedure, what is typed, the verdict as worked out in docs/judging.md 11
# and by its rules)
CASES: dict[str, tuple[str, dict[str, str], str]] = {
    "insulation, worked by hand": (
        IR,
        {
            "value": "3.20",
            "unit": "GOhm",
            "accuracy_pct": "5",
            "accuracy_fixed": "0.02",
            "temperature_c": "31",
            "test_kv": "2.5",
            "rated_kv": "15",
        },
        "marginal",
    ),
    "insulation, 4.20": (
        IR,
        {
            "value": "4.20",
            "unit": "GOhm",
            "accuracy_pct": "5",
            "accuracy_fixed": "0.02",
            "temperature_c": "31",
            "test_kv": "2.5",
            "rated_kv": "15",
        },
        "within",
    ),
    "insulation, over range": (
        IR,
        {
            "value": ">200",
            "unit": "GOhm",
            "temperature_c": "-3",
            "test_kv": "5",
            "rated_kv": "38",
        },
        "unjudged",
    ),
    "insulation, in air that is warmer, with its rows": (
        IR,
        {
            "value": "6.0",
            "unit": "GOhm",
            "temperature_c": "12",
            "air_temperature_c": "25",
            "humidity_pct": "80",
            "timed": "30:4.8 60:6.0 600:9.6",
            "steps": "1:6.2 2.5:6.0",
        },
        "unjudged",
    ),
    "insulation, nothing known": (IR, {"value": "4.2", "unit": "GOhm"}, "unjudged"),
    "insulation, a maker's limit in the unit of the value": (
        IR,
        {
            "value": "2",
            "unit": "GOhm",
            "limit": "3",
            "temperature_c": "20",
            "insulation": "oil",
        },
        "outside",
    ),
    "contact, three poles worked by hand": (
        CR,
        {
            "value": "61.7",
            "other_1": "37.9",
            "other_2": "38.8",
            "accuracy_pct": "0.5",
            "accuracy_fixed": "0.2",
            **COPPER,
            **BENCH,
        },
        "outside",
    ),
    "contact, a lone pole": (
        CR,
        {"value": "50", "unit": "uOhm", **BENCH},
        "unjudged",
    ),
    "contact, a lone pole with a limit": (
        CR,
        {"value": "50", **COPPER, **BENCH},
        "within",
    ),
    "withstand, held": (
        DW,
        {
            "outcome": "held",
            "supply": "ac",
            "test_kv": "27",
            "duration_s": "60",
            "gear": "metal_clad",
            "rated_withstand_kv": "36",
        },
        "within",
    ),
    "withstand, stressed": (
        DW,
        {
            "outcome": "held",
            "supply": "ac",
            "test_kv": "29",
            "duration_s": "60",
            "gear": "metal_clad",
            "rated_withstand_kv": "36",
        },
        "marginal",
    ),
    "a pole behind the quickest": (
        "breaker_timing",
        {"value": "33", "unit": "ms", "other_1": "30", "spread_limit": "2"},
        "outside",
    ),
    "a pole from its earliest": (
        "breaker_timing",
        {"value": "33", "unit": "ms", "earliest": "30", "operation": "close"},
        "within",
    ),
    "a CT turned round": ("ct_polarity", {"outcome": "not_as_expected"}, "outside"),
    "joints of a bus": (
        "joint_resistance",
        {
            "value": "15.1",
            "unit": "uOhm",
            "temperature_c": "35",
            "test_current_a": "100",
            "other_1": "10",
            "other_2": "12",
        },
        "outside",
    ),
    "a bottle in micropascals": (
        "vacuum_pressure",
        {"value": "300", "unit": "uPa", "accuracy_pct": "20"},
        "within",
    ),
    "gas of a gauge at 31 °C": (
        "gas_density",
        {
            "value": "46.0",
            "unit": "kPa",
            "pressure_as": "gauge",
            "temperature_c": "31",
            "air_pressure_kpa": "99.2",
            "waited_h": "48",
            "gas": "sf6",
            "gas_alarm_kpa": "130",
        },
        "within",
    ),
    "fuses of a set": (
        "fuse_resistance",
        {"value": "231", "unit": "uOhm", "other_1": "200", "other_2": "210"},
        "outside",
    ),
    "a fuse and its limit": (
        "fuse_resistance",
        {"value": "0.2", "unit": "mOhm", "limit": "0.21"},
        "within",
    ),
    "arc light, light alone": (
        "arc_flash_relay",
        {"outcome": "no_trip", "arc_test": "light_alone"},
        "within",
    ),
    "directional boundary across zero": (
        "relay_angle",
        {"value": "359.9", "unit": "deg", "boundary": "plus_90", "rca_deg": "-90"},
        "within",
    ),
    "like phases, nothing adopted": (
        "phasing",
        {"value": "1.8", "unit": "V", "phase_pair": "like", "nominal_v": "120"},
        "unjudged",
    ),
    "rotation as the site's": (
        "phase_rotation",
        {"outcome": "as_expected", "rotation": "abc"},
        "within",
    ),
    "angle in service, nothing adopted": (
        "current_angle",
        {"value": "-25.1", "unit": "deg", "phase": "a", "reference_phase": "va"},
        "unjudged",
    ),
    "voltage at the interface of an indicator": (
        "voltage_indication",
        {
            "value": "4.8",
            "unit": "V",
            "indicator_read": "interface",
            "indicator_v_min": "3.5",
            "indicator_v_max": "6",
        },
        "within",
    ),
    "a coupler, and nobody has said what is permitted": (
        "discharge_couplers",
        {"value": "8", "unit": "pC", "background_pc": "2"},
        "unjudged",
    ),
    "a warm joint": (
        "thermography",
        {"value": "6", "unit": "K", "compare_to": "similar", "load_pct": "65"},
        "outside",
    ),
    "discharge, above the background": (
        "discharge_survey",
        {"value": "15", "unit": "dB", "sensor_kind": "tev", "background_db": "2"},
        "marginal",
    ),
    "arc light, slow": (
        "arc_flash_relay",
        {"value": "2.6", "unit": "ms", "arc_test": "light_and_current"},
        "outside",
    ),
    "a coil beside no accepted record": (
        "coil_times",
        {"value": "12", "unit": "ms", "coil": "trip_1", "coil_mark": "latch"},
        "unjudged",
    ),
    "current through the circuit, nothing adopted": (
        "current_injection",
        {
            "value": "2.47",
            "unit": "A",
            "injection": "primary",
            "injected_a": "300",
            "ct_primary_a": "600",
            "ct_secondary_a": "5",
        },
        "unjudged",
    ),
    "relay and breaker": (
        "end_to_end_time",
        {
            "value": "31",
            "unit": "ms",
            "breaker_s": "0.045",
            "arcing_s": "0.008",
            "clearing_s": "0.1",
        },
        "within",
    ),
    "definite time": (
        "relay_definite_time",
        {"value": "0.54", "unit": "s", "timed_as": "definite", "set_delay_s": "0.5"},
        "outside",
    ),
    "differential": (
        "relay_differential",
        {
            "value": "2.5235",
            "unit": "A",
            "restraint_pu": "2",
            "differential_test": "characteristic",
            "diff_form": "origin",
            "diff_pickup_pu": "0.3",
            "slope_1_pct": "25",
            "slope_2_pct": "60",
            "break_pu": "3",
            "restraint_as": "average",
            "tap_1_a": "4.9",
        },
        "outside",
    ),
    "frequency": (
        "relay_frequency",
        {"value": "58.99", "unit": "Hz", "set_value": "59", "set_unit": "Hz"},
        "within",
    ),
    "pickup": (
        "relay_pickup",
        {
            "value": "337",
            "unit": "A",
            "element": "51",
            "relay_edge": "pickup",
            "pickup_a": "320",
        },
        "outside",
    ),
    "settings as left": (
        "relay_settings",
        {"outcome": "as_expected", "settings_id": "F-07"},
        "within",
    ),
    "voltage element": (
        "relay_voltage_pickup",
        {
            "value": "97",
            "unit": "V",
            "relay_edge": "pickup",
            "set_value": "96",
            "set_unit": "V",
        },
        "within",
    ),
    "inverse overvoltage": (
        "relay_voltage_timing",
        {
            "value": "5.3",
            "unit": "s",
            "applied_v": "132",
            "voltage_curve": "over_a",
            "set_value": "120",
            "set_unit": "V",
            "time_dial": "0.5",
        },
        "outside",
    ),
    "voltage through the circuit, nothing adopted": (
        "voltage_injection",
        {"value": "66", "unit": "V", "measured_at": "device", "injected_v": "66.4"},
        "unjudged",
    ),
    "withstand, broke down": (
        DW,
        {"outcome": "broke_down", "supply": "ac", "test_kv": "12"},
        "outside",
    ),
    "vacuum, pressure": (
        VI,
        {"value": "2e-3", "unit": "Pa", "method": "magnetron"},
        "within",
    ),
    "vacuum, withstand": (
        VI,
        {
            "outcome": "held",
            "unit": "Pa",
            "method": "ac",
            "test_kv": "27",
            "duration_s": "60",
            "rated_kv": "15",
        },
        "within",
    ),
    "relay, worked by hand": (
        RT,
        {"value": "5.88", "unit": "s", "applied_a": "1440", **VERY_INVERSE},
        "within",
    ),
    "relay, did not operate": (
        RT,
        {"outcome": "no_trip", "unit": "s", "applied_a": "456", **VERY_INVERSE},
        "within",
    ),
    "relay, in ms": (
        RT,
        {"value": "5200", "unit": "ms", "applied_a": "1440", **VERY_INVERSE},
        "outside",
    ),
}
cases = pytest.mark.parametrize(
    ("procedure", "typed", "verdict"), CASES.values(), ids=CASES
)


def asked(reader: Visitor, procedure: str, typed: dict[str, str]) -> Page:
    query = urlencode({"procedure": procedure, **typed})
    return reader.get(f"/library/calculator?{query}")


def known(names: Iterable[str], typed: dict[str, str]) -> dict[str, Any]:
    """Return what is typed of these fields: a choice as it stands, else a number."""
    return {
        name: typed[name] if field(name).kind != "number" else float(typed[name])
        for name in names
        if name in typed
    }


def rule_of(procedure: str, typed: dict[str, str], criteria: Criteria) -> Rule:
    about = PROCEDURES[procedure]
    plate = known([*about.rests_on, *about.columns], typed)
    if plate.keys() & {"limit", "earliest", "spread_limit"}:
        plate["limit_unit"] = typed["unit"]
    return compile_rule(procedure, Subject(**plate), criteria)


def judged(procedure: str, typed: dict[str, str], criteria: Criteria) -> dict[str, Any]:
    """Judge by the core itself what the case types into the page."""
    asked = [ask["name"] for ask in PROCEDURES[procedure].asks]
    conditions = known(asked, typed)
    conditions |= {name: typed[name] for name in SERIES if name in typed}
    texts = [typed.get("value") or typed["outcome"]]
    texts += [typed[name] for name in ("other_1", "other_2") if name in typed]
    accuracy = None
    if "accuracy_pct" in typed:
        accuracy = Accuracy(
            float(typed["accuracy_pct"]), float(typed.get("accuracy_fixed", 0))
        )
    rule = rule_of(procedure, typed, criteria)
    unit = typed.get("unit") if "value" in typed else None
    items = [
        (
            rule,
            Reading(
                key=str(n),
                text=text,
                unit=unit,
                accuracy=accuracy if unit else None,
                conditions=conditions,
            ),
        )
        for n, text in enumerate(texts)
    ]
    return judge(items)[0].as_json()


@cases
def test_it_judges_as_the_core_does(
    criteria: Criteria, procedure: str, typed: dict[str, str], verdict: str
) -> None:
    answer = work_out(procedure_named(procedure), typed, criteria)
    assert answer.judgement == judged(procedure, typed, criteria)
    assert answer.judgement["verdict"] == verdict


@cases
def test_the_page_shows_verdict_number_reason_working_and_sources(
    reader: Visitor,
    criteria: Criteria,
    procedure: str,
    typed: dict[str, str],
    verdict: str,
) -> None:
    page = asked(reader, procedure, typed)
    wanted = judged(procedure, typed, criteria)
    assert page.status == 200
    answer = page.text.split("Verdict ", 1)[1]
    assert answer.startswith(verdict)
    if wanted["corrected"] is not None:
        assert corrected(wanted) in answer
    printed = {cite_words(cite) for cite in wanted["cite"]}
    for line in wanted["working"]:
        assert (line.removeprefix("Source: ") if line in printed else line) in answer
    assert wanted["reason"] in answer
    strip_wanted = bool(wanted["corrected"]) and (
        wanted["limit_low"] is not None or wanted["limit_high"] is not None
    )
    assert ("drawing-limit-strip" in page.html) == strip_wanted


@cases
def test_what_was_typed_stays(
    reader: Visitor, procedure: str, typed: dict[str, str], verdict: str
) -> None:
    page = asked(reader, procedure, typed)
    shown = {**page.fields, **page.chosen}
    assert {name: shown[name] for name in typed} == typed


@cases
def test_the_rule_for_the_browser_is_the_one_that_is_judged_with(
    reader: Visitor,
    criteria: Criteria,
    procedure: str,
    typed: dict[str, str],
    verdict: str,
) -> None:
    query = urlencode({"procedure": procedure, **typed})
    sent = reader.client.get(f"/library/rule.json?{query}")
    assert sent.status_code == 200
    assert sent.json is not None
    rule = rule_of(procedure, typed, criteria).to_json()
    assert sent.json["rule"] == rule
    words = {cite_words(cite).removeprefix("Source: ") for cite in rule["cite"]}
    assert set(sent.json["tables"]) <= words


# name -> (procedure, what is typed, {field: part of what is said at it})
BAD: dict[str, tuple[str, dict[str, str], dict[str, str]]] = {
    "nothing typed": (IR, {"value": ""}, {"value": "Enter a value."}),
    "a comma": (IR, {"value": "4,2", "unit": "GOhm"}, {"value": "comma"}),
    "a negative reading": (
        IR,
        {"value": "-4", "unit": "GOhm"},
        {"value": "cannot be negative"},
    ),
    "a unit of another quantity": (
        IR,
        {"value": "4", "unit": "s"},
        {"unit": "does not fit"},
    ),
    "an outcome that the test has not": (
        IR,
        {"value": "held", "unit": "GOhm"},
        {"value": "does not fit"},
    ),
    "everything at once": (
        IR,
        {
            "value": "x",
            "unit": "GOhm",
            "temperature_c": "warm",
            "test_kv": "-2",
            "rated_kv": "0",
            "accuracy_pct": "5%",
            "insulation": "straw",
        },
        {
            "value": "not a number",
            "temperature_c": "not a number",
            "test_kv": "Test voltage: -2 must be between 0 and 500 kV.",
            "rated_kv": "Rated maximum voltage: 0 must be above 0 and",
            "accuracy_pct": "not a number",
            "insulation": "'straw' is none of solid, oil",
        },
    ),
    "rows that are none": (
        IR,
        {"value": "4", "unit": "GOhm", "timed": "60", "steps": "2:4 1:5"},
        {"timed": "such as 60:3.0", "steps": "rising order"},
    ),
    "a bound as a condition": (
        CR,
        {"value": "40", "unit": "uOhm", "temperature_c": ">20"},
        {"temperature_c": "not a plain number"},
    ),
    "another pole that is no number": (
        CR,
        {"value": "40", "unit": "uOhm", "other_1": "41;42"},
        {"other_1": "not a number"},
    ),
    "a number and an outcome": (
        VI,
        {"value": "1e-3", "unit": "Pa", "outcome": "held"},
        {"outcome": "not both"},
    ),
    "no outcome": (DW, {"outcome": ""}, {"outcome": "Enter a value."}),
    "a number where only outcomes are": (
        DW,
        {"outcome": "27"},
        {"outcome": "has no number"},
    ),
    "a curve that nobody knows": (
        RT,
        {"value": "1", "unit": "s", "curve": "made_up"},
        {"curve": "'made_up' is none of ieee_"},
    ),
}


@pytest.mark.parametrize(("procedure", "typed", "faults"), BAD.values(), ids=BAD)
def test_bad_input_is_said_at_its_field_and_stays(
    reader: Visitor, procedure: str, typed: dict[str, str], faults: dict[str, str]
) -> None:
    page = asked(reader, procedure, typed)
    assert page.status == 422
    assert set(page.faults) == set(faults)
    for name, says in faults.items():
        assert says in page.faults[name]
    kept = {name: page.fields[name] for name in typed if name in page.fields}
    assert kept == {name: typed[name] for name in kept}
    assert "Something that was typed cannot be read" in page.text


def test_a_rule_for_what_cannot_be_says_each_fault(reader: Visitor) -> None:
    sent = reader.client.get(f"/library/rule.json?procedure={IR}&rated_kv=0&limit=x")
    assert sent.status_code == 422
    assert sent.json is not None
    assert {f["field"] for f in sent.json["faults"]} == {"rated_kv", "limit"}


@pytest.mark.parametrize("procedure", PROCEDURES)
def test_it_says_that_it_is_no_record(reader: Visitor, procedure: str) -> None:
    page = reader.get(f"/library/calculator?procedure={procedure}&clear=yes")
    assert page.status == 200
    assert "A calculator, and no record." in page.text
    assert not page.faults
    assert "Nothing is typed yet." in page.text
    for ask in PROCEDURES[procedure].asks:
        assert ask["label"] in page.text


def test_a_procedure_that_nobody_knows_is_the_first_of_a_round(
    reader: Visitor,
) -> None:
    page = reader.get("/library/calculator?procedure=dance")
    assert page.fields["procedure"] == IR


@pytest.mark.parametrize(
    ("typed", "drawn"),
    [({"applied_a": "1440"}, True), ({}, False)],
    ids=["with a current", "without one"],
)
def test_a_relay_s_time_is_shown_on_its_curve(
    reader: Visitor, typed: dict[str, str], drawn: bool
) -> None:
    relay = {**VERY_INVERSE, "bands": "iec_60255_151", "tolerance_pct": "5"}
    page = asked(reader, RT, {**relay, **typed, "value": "5.88", "unit": "s"})
    assert ("drawing-curve" in page.html) == drawn


@pytest.mark.parametrize("name", PROCEDURES)
def test_it_opens_with_an_example_that_is_judged(reader: Visitor, name: str) -> None:
    page = reader.get(f"/library/calculator?procedure={name}")
    assert page.status == 200
    assert "An example: type over it, or clear it." in page.text
    # What may be off is a suggestion here: nothing decides until a lead adopts it.
    suggested = any(one.suggested for one in PROCEDURES[name].givable)
    judged = ["verdict-within", *["verdict-unjudged"] * suggested]
    assert any(verdict in page.html for verdict in judged)
    cleared = reader.get(f"/library/calculator?procedure={name}&clear=yes")
    assert "An example" not in cleared.text
    assert "Nothing is typed yet." in cleared.text
