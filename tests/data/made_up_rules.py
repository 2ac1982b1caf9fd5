"""Made-up rules: compiled from made-up nameplates, half of them bent after that.

A bent rule has what no table asks for today but the vocabulary allows: other gates,
other points of a correction, a second bound that holds on a condition only.
"""

import json
import random
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from models.criteria import load
from models.fields import field
from models.procedures import PROCEDURES, Subject, compile_rule
from models.procedures.given import Given
from tests.data.made_up_baseline import at_a_point
from tests.data.made_up_live import OF_LIVE, USUAL_LIVE
from tests.data.made_up_wiring import OF_WIRING

RuleJson = dict[str, Any]
# In the first unit of the procedure's quantity.
USUAL = {
    **USUAL_LIVE,
    "bolt_torque": 48.0,
    "arrester_leakage": 600.0,
    "arrester_watts_loss": 60.0,
    "cable_shield": 4.5,
    "insulation_capacitance": 350.0,
    "control_wiring_insulation": 2.0,
    "ct_insulation": 500.0,
    "dc_supply": 100.0,
    "fuse_rating": 65.0,
    "ground_point_to_point": 500000.0,
    "heater_current": 2.05,
    "meter_accuracy": 119.4,
    "winding_insulation": 25000.0,
    "coil_current": 5.6,
    "coil_times": 0.012,
    "discharge_couplers": 9.0,
    "coil_voltage": 80.0,
    "contact_speed": 1.0,
    "contact_travel": 11.0,
    "power_factor": 0.4,
    "spring_charging": 9.0,
    "insulation_resistance": 5000.0,
    "contact_resistance": 45.0,
    "ct_burden": 1.5,
    "cable_tan_delta": 3.0,
    "ct_excitation": 1.5,
    "ct_ratio": 240.0,
    "ct_winding_resistance": 0.35,
    "fuse_resistance": 20500.0,
    "ground_resistance": 4.0,
    "gas_contact": 46000.0,
    "gas_density": 46000.0,
    "gas_leak_rate": 46000.0,
    "gas_mass": 12.0,
    "gas_moisture": -10.0,
    "gas_moisture_ppmv": 2700.0,
    "gas_purity": 97.0,
    "joint_resistance": 10.0,
    "breaker_timing": 0.05,
    "vacuum_integrity": 0.01,
    "vacuum_pressure": 0.01,
    "vt_burden": 0.4,
    "vt_ratio": 120.0,
    "relay_timing": 3.0,
    "relay_differential": 2.5,
    "arc_flash_relay": 0.0025,
    "relay_angle": 45.0,
    "current_injection": 2.5,
    "end_to_end_time": 0.05,
    "relay_definite_time": 0.5,
    "relay_frequency": 59.0,
    "relay_pickup": 300.0,
    "relay_voltage_pickup": 96.0,
    "voltage_injection": 66.0,
    "discharge_survey": 18.0,
    "temperature_sensor": 23.0,
    "temperature_sensor_alarm": 90.0,
    "temperature_sensor_spread": 1.5,
    "thermography": 2.5,
    "relay_voltage_timing": 3.0,
}
# A band that a lead has adopted for the project.
ADOPTED = Given(
    quantity="coil_current_band",
    value=10.0,
    standing="project",
    scope="kind",
    document="adopted",
)
RATINGS = (4.76, 7.2, 8.25, 12.0, 15.0, 15.5, 17.5, 24.0, 27.0, 38.0, 46.0)
WHEN: tuple[dict[str, Any], ...] = (
    {"supply": "ac"},
    {"method": "dc"},
    {"temperature_c": 20.0},
    {"supply": "dc", "test_kv": 5.0},
)


def made_up_rule(source: random.Random, procedure: str) -> RuleJson:
    """Return a rule of *procedure* as it is stored."""
    subject = Subject(**SUBJECTS[procedure](source))
    rule = compile_rule(procedure, subject, load()).to_json()
    rule = json.loads(json.dumps(rule))
    if source.random() < 0.5:
        for bend in source.sample(BENDS, 2):
            bend(source, rule)
    return rule


def _some(source: random.Random, *values: Any) -> Any:
    """Return one of *values*, or now and then none."""
    return source.choice((None, *values, *values))


def _near(source: random.Random, usual: float) -> float:
    return float(f"{usual * source.lognormvariate(0.0, 0.3):.3g}")


def _gear(source: random.Random) -> dict[str, Any]:
    return {
        "gear": _some(source, *field("gear").choices),
        "rated_kv": _some(source, *RATINGS, round(source.uniform(1.0, 60.0), 2)),
    }


def _insulation(source: random.Random) -> dict[str, Any]:
    limit = _some(source, _near(source, 2.0))
    return {
        **_gear(source),
        "insulation": _some(source, *field("insulation").choices),
        "limit": source.choice((None, None, limit)),
        "limit_unit": "GOhm",
    }


def _contact(source: random.Random) -> dict[str, Any]:
    return {
        "conductor": _some(source, *field("conductor").choices),
        "limit": _some(source, _near(source, 0.05)),
        "limit_unit": "mOhm",
    }


def _ct_burden(source: random.Random) -> dict[str, Any]:
    return {
        "ct_class": _some(source, "C100", "C400", "PX", "5P", "0.3"),
        "ct_alf": _some(source, 10.0, 20.0),
        "ct_burden_va": source.choice((None, None, 15.0, 25.0)),
        "ct_primary_a": _some(source, 600.0, 1200.0),
        "ct_secondary_a": _some(source, 1.0, 5.0, 5.0),
        "ct_rct_ohm": _some(source, _near(source, 0.4)),
        "fault_ka": _some(source, 12.5, 20.0, 40.0),
        "x_over_r": _some(source, 5.0, 12.0),
        "remanence_pct": source.choice((None, None, 40.0, 100.0)),
        "saturation_form": _some(source, *field("saturation_form").choices),
    }


def _ct_core(source: random.Random) -> dict[str, Any]:
    return {
        "ct_class": _some(source, "C200", "C400", "PX", "5P"),
        "ct_secondary_a": _some(source, 5.0, 5.0, 1.0),
        "ct_rct_ohm": _some(source, _near(source, 0.3)),
        "ct_gapped": source.choice((None, None, True)),
        "knee_v": source.choice((None, 1.4, 2.0)),
        "ct_curve": source.choice((None, "100:0.02 200:0.04 250:0.1 300:1 320:4")),
    }


def _ct(source: random.Random) -> dict[str, Any]:
    return {
        "ct_primary_a": _some(source, 1200.0),
        "ct_secondary_a": _some(source, 5.0),
        "ct_class": _some(source, "C400", "5P", "0.3", "0.5"),
        "knee_v": _some(source, 264.0),
        "ct_rct_ohm": _some(source, _near(source, 0.45)),
        "conductor": _some(source, *field("conductor").choices),
    }


def _vt(source: random.Random) -> dict[str, Any]:
    return {
        "vt_primary_v": _some(source, 14400.0),
        "vt_secondary_v": _some(source, 120.0),
        "vt_class": _some(source, "0.3", "0.5", "3P"),
        "vt_burden_va": _some(source, 35.0, 75.0),
        "rated_impulse_kv": _some(source, 60.0, 95.0, 97.0),
        "rated_withstand_kv": _some(source, 34.0),
        "level_ac_kv": source.choice((None, None, 25.0)),
        "level_dc_kv": source.choice((None, None, 30.0)),
    }


def _only(
    make: Callable[[random.Random], dict[str, Any]], procedure: str
) -> Callable[[random.Random], dict[str, Any]]:
    """Return what *make* makes up, of the fields that the procedure rests on."""
    known = PROCEDURES[procedure].rests_on
    return lambda source: {k: v for k, v in make(source).items() if k in known}


def _nothing(_source: random.Random) -> dict[str, Any]:
    return {}


def _fuse(source: random.Random) -> dict[str, Any]:
    limits = {"fuse_limit_uohm": _some(source, _near(source, 21000.0))}
    return limits | {"limit": source.choice((None, None, _near(source, 20900.0)))}


def _gas(source: random.Random) -> dict[str, Any]:
    return {
        "gas": _some(source, *field("gas").choices),
        "gas_system": _some(source, *field("gas_system").choices),
        "gas_fill_kpa": _some(source, 140.0, 150.0, 500.0),
        "gas_alarm_kpa": _some(source, _near(source, 140.0)),
        "gas_lockout_kpa": _some(source, 120.0),
        "gas_tolerance_kpa": _some(source, 3.0, 12.0),
        "gas_mass_kg": _some(source, _near(source, 12.0)),
        "moisture_limit_c": _some(source, -12.0),
        "altitude_m": _some(source, 0.0, 320.0, 1500.0),
    }


def _joint(source: random.Random) -> dict[str, Any]:
    return {
        "conductor": _some(source, *field("conductor").choices),
        "joint_limit_uohm": _some(source, _near(source, 15.0)),
        "limit": source.choice((None, None, _near(source, 14.0))),
    }


def _bolt(source: random.Random) -> dict[str, Any]:
    return {"torque_lbft": source.choice((None, None, _near(source, 48.0)))}


def _breaker(source: random.Random) -> dict[str, Any]:
    usual = {"close_ms_min": 40.0, "close_ms_max": 55.0, "open_ms_max": 45.0}
    usual |= {"spread_close_ms": 5.0, "spread_open_ms": 3.3, "bounce_ms_max": 2.0}
    usual["close_open_ms_max"] = 70.0
    plate = {name: _some(source, _near(source, ms)) for name, ms in usual.items()}
    columns = {"limit": 0.055, "earliest": 0.045, "spread_limit": 0.003}
    if source.random() < 0.3:
        plate |= {n: _some(source, _near(source, s)) for n, s in columns.items()}
    return plate


def _plate(**usual: float) -> Callable[[random.Random], dict[str, Any]]:
    """Return what makes up a nameplate: each field near what is usual, or blank."""

    def made_up(source: random.Random) -> dict[str, Any]:
        return {name: _some(source, _near(source, at)) for name, at in usual.items()}

    return made_up


def _charge(source: random.Random) -> dict[str, Any]:
    said = replace(ADOPTED, quantity="apparent_charge", standing="maker")
    return {"given": (said,) if source.random() < 0.8 else ()}


def _coil(source: random.Random) -> dict[str, Any]:
    names = ("control_nominal", "control_edition")
    return {name: _some(source, *field(name).choices) for name in names}


def _coil_current(source: random.Random) -> dict[str, Any]:
    band = replace(ADOPTED, value=source.choice((5.0, 10.0)))
    plate = _plate(close_coil_a=5.5, coil_a=5.6, coil_ohm=22.0)(source)
    return {**plate, **_coil(source), "given": (band,)}


def _withstand(source: random.Random) -> dict[str, Any]:
    return {
        **_gear(source),
        "rated_withstand_kv": _some(source, 20.0, 28.0, 50.0, 60.0),
        "level_ac_kv": _some(source, _near(source, 27.0)),
        "level_dc_kv": _some(source, _near(source, 38.0)),
        "altitude_m": _some(source, 950.0, 1234.5, 3210.0),
    }


def _vacuum(source: random.Random) -> dict[str, Any]:
    return {
        **_gear(source),
        "rated_withstand_kv": _some(source, 20.0, 28.0, 50.0, 60.0),
        "vacuum_ac_kv": _some(source, _near(source, 27.0)),
        "vacuum_dc_kv": _some(source, _near(source, 38.0)),
        "vacuum_limit_pa": _some(source, _near(source, 0.01)),
    }


def _pressure(source: random.Random) -> dict[str, Any]:
    return {"vacuum_limit_pa": _some(source, _near(source, 0.01))}


def _relay(source: random.Random) -> dict[str, Any]:
    curves = [row["curve"] for row in load().table("relay_curves").rows]
    nameplate = {
        "curve": _some(source, *curves * 3),
        "pickup_a": _some(source, *[_near(source, 200.0)] * 20),
        "time_dial": _some(source, *[_near(source, 0.5)] * 20),
        "tolerance_pct": _some(source, 3.0, 5.0, 7.5),
        "tolerance_s": _some(source, 0.0, 0.02, 0.05),
        "ct_primary_a": source.choice((None, None, 600.0)),
        "ct_secondary_a": 5.0,
        "pickup_base": source.choice((None, "primary", "secondary")),
    }
    if source.random() < 0.5:
        return nameplate
    return nameplate | {
        "bands": source.choice((None, None, "iec_60255_151")),
        "ceiling_multiple": source.choice((None, None, 10.0, 20.0)),
        "minimum_time_s": source.choice((None, None, 0.05, 0.7)),
        "pickup_error_pct": source.choice((None, 0.0, 3.0, 5.0, 40.0)),
        "current_error_pct": source.choice((None, None, 1.0)),
        "timed_against": source.choice((None, "setting", "measured_pickup")),
    }


def _voltage(source: random.Random) -> dict[str, Any]:
    return {
        "voltage_curve": _some(source, *field("voltage_curve").choices * 3),
        "set_value": _some(source, *[_near(source, 110.0)] * 20),
        "set_unit": source.choice(("V", "V", "V", "V", "Hz", None)),
        "time_dial": _some(source, *[_near(source, 0.5)] * 20),
        "tolerance_pct": _some(source, 3.0, 5.0, 7.5),
        "tolerance_s": _some(source, 0.0, 0.02, 0.05),
    }


def _differential(source: random.Random) -> dict[str, Any]:
    return {
        "diff_form": _some(source, *field("diff_form").choices * 4),
        "diff_pickup_pu": _some(source, *[_near(source, 0.3)] * 20),
        "slope_1_pct": _some(source, *[_near(source, 25.0)] * 20),
        "slope_2_pct": _some(source, *[_near(source, 60.0)] * 20),
        "break_pu": _some(source, *[_near(source, 3.0)] * 20),
        "restraint_as": _some(source, *field("restraint_as").choices * 4),
        "tap_1_a": _some(source, *[_near(source, 4.9)] * 20),
        "diff_tolerance_pct": _some(source, 5.0),
    }


def _arc(source: random.Random) -> dict[str, Any]:
    return {"operate_ms_max": _some(source, _near(source, 2.5))}


def _angle(source: random.Random) -> dict[str, Any]:
    return {"rca_deg": _some(source, -45.0, 179.0, -100.0)}


def _injection(source: random.Random) -> dict[str, Any]:
    return {
        "ct_primary_a": _some(source, 600.0),
        "ct_secondary_a": _some(source, 5.0, 1.0),
        "given": source.choice(((), (INJECTED,))),
    }


INJECTED = Given(
    quantity="current_injection_tolerance",
    value=5.0,
    standing="project",
    scope="lineup",
    document="made up",
)


def _definite(source: random.Random) -> dict[str, Any]:
    return {
        "set_delay_s": _some(source, _near(source, 0.5)),
        "failure_delay_s": _some(source, _near(source, 0.15)),
        "tolerance_pct": _some(source, 2.0),
        "operate_ms_max": _some(source, _near(source, 500.0)),
        "lockout_ms_max": _some(source, _near(source, 500.0)),
    }


def _pickup(source: random.Random) -> dict[str, Any]:
    names = ("pickup_a", "inst_pickup_a", "ground_pickup_a", "ground_inst_pickup_a")
    return {name: _some(source, _near(source, 300.0)) for name in names} | {
        "pickup_factor": _some(source, 1.05),
        "pickup_error_pct": _some(source, 2.0),
        "dropout_pct": _some(source, 95.0),
        "dropout_pct_max": _some(source, 99.0),
    }


def _element(source: random.Random) -> dict[str, Any]:
    return {
        "set_value": _some(source, _near(source, 80.0)),
        "set_unit": source.choice(("V", "Hz")),
        "dropout_pct_max": _some(source, 103.0),
    }


SUBJECTS: Mapping[str, Callable[[random.Random], dict[str, Any]]] = {
    "bolt_torque": _bolt,
    **OF_LIVE,
    **OF_WIRING,
    "insulation_resistance": _insulation,
    "contact_resistance": at_a_point("contact_resistance", _contact),
    "ct_burden": _ct_burden,
    "ct_excitation": _ct_core,
    "ct_polarity": _nothing,
    "ct_ratio": _only(_ct, "ct_ratio"),
    "ct_shorting": _nothing,
    "ct_winding_resistance": _only(_ct, "ct_winding_resistance"),
    "fuse_resistance": _fuse,
    "ground_resistance": _plate(ground_limit_ohm=5.0),
    "gas_contact": _gas,
    "gas_density": _gas,
    "gas_leak_rate": _gas,
    "gas_mass": _gas,
    "gas_moisture": _gas,
    "gas_moisture_ppmv": _gas,
    "gas_purity": _gas,
    "joint_resistance": at_a_point("joint_resistance", _joint),
    "breaker_timing": at_a_point("breaker_timing", _breaker),
    "coil_current": _coil_current,
    "coil_times": at_a_point("coil_times", _nothing),
    "coil_voltage": _coil,
    "contact_speed": at_a_point(
        "contact_speed",
        _plate(
            speed_close_mps_min=0.8,
            speed_close_mps_max=1.2,
            speed_open_mps_min=0.9,
            speed_zone_from_mm=1.0,
            speed_zone_to_mm=2.0,
        ),
    ),
    "contact_travel": at_a_point(
        "contact_travel",
        _plate(
            stroke_mm_min=10.5,
            stroke_mm_max=12.5,
            wipe_mm_min=10.0,
            erosion_mm_max=12.0,
        ),
    ),
    "power_factor": _plate(power_factor_limit_pct=0.45),
    "spring_charging": _plate(charge_s_max=9.5),
    "vacuum_integrity": _vacuum,
    "vacuum_pressure": _pressure,
    "relay_timing": _relay,
    "relay_differential": _differential,
    "arc_flash_relay": _arc,
    "relay_angle": _angle,
    "current_injection": _injection,
    "end_to_end_time": _nothing,
    "relay_definite_time": _definite,
    "relay_frequency": _element,
    "relay_pickup": _pickup,
    "relay_settings": _nothing,
    "relay_voltage_pickup": _element,
    "voltage_injection": _nothing,
    "discharge_couplers": _charge,
    "discharge_survey": _nothing,
    "temperature_sensor": _plate(sensor_accuracy_c=1.0),
    "temperature_sensor_alarm": _plate(sensor_alarm_c=90.0),
    "temperature_sensor_link": _nothing,
    "temperature_sensor_spread": _nothing,
    "thermography": _nothing,
    "relay_voltage_timing": _voltage,
    "dielectric_withstand": _withstand,
    "instrument_transformer_withstand": _only(_vt, "instrument_transformer_withstand"),
    "vt_burden": _only(_vt, "vt_burden"),
    "vt_fuses": _nothing,
    "vt_polarity": _nothing,
    "vt_ratio": _only(_vt, "vt_ratio"),
}


def _decide_simply(_source: random.Random, rule: RuleJson) -> None:
    rule["decision"] = "simple"


def _drop_gates(source: random.Random, rule: RuleJson) -> None:
    """Drop gates, but for what is applied, without which there is no multiple."""
    rule["gates"] = [
        gate
        for gate in rule["gates"]
        if gate.get("on") in ("applied_a", "applied_v") or source.random() < 0.5
    ]


def _ask_for_more(source: random.Random, rule: RuleJson) -> None:
    gate = source.choice(
        (
            {"on": "test_kv", "at_least": 5.0, "unit": "kV"},
            {"on": "duration_s", "at_least": 60.0, "unit": "s"},
            {"on": "supply", "known": True, "reason": "The supply is not said."},
        )
    )
    rule["gates"].append(gate | {"when": source.choice(WHEN)})


def _give_a_reason(source: random.Random, rule: RuleJson) -> None:
    when = source.choice(WHEN)
    rule["unjudged"].append({"when": when, "reason": "Not asked for here."})


def _correct_otherwise(source: random.Random, rule: RuleJson) -> None:
    """Correct by another table or metal; outcomes have nothing to correct."""
    if rule["unit"] is None:
        return
    if source.random() < 0.5:
        k = round(source.uniform(150.0, 300.0), 1)
        correction = {"by": "metal", "k": k}
    else:
        degrees = sorted(source.sample(range(-20, 121), source.randint(2, 6)))
        points = [[d, round(source.lognormvariate(0.0, 1.0), 3)] for d in degrees]
        correction = {"by": "factor", "points": points}
    rule["correction"] = correction | {
        "reference_c": source.choice((0.0, 20.0, 25.0)),
        "label": "made up",
    }


def _bound_otherwise(source: random.Random, rule: RuleJson) -> None:
    """Add a least or a greatest value, for some conditions or for all."""
    if rule["unit"] is None:
        return
    bound: dict[str, Any] = {
        "kind": source.choice(("low", "high")),
        "value": source.choice((0, _near(source, USUAL[rule["procedure"]]))),
    }
    if source.random() < 0.5:
        bound["when"] = source.choice(WHEN)
    rule["bounds"].append(bound)


def _spread_otherwise(source: random.Random, rule: RuleJson) -> None:
    for bound in rule["bounds"]:
        if bound["kind"] == "high_of_lowest":
            bound["times"] = source.choice((1.0, 1.05, 1.2, 2.0))


BENDS = (
    _decide_simply,
    _drop_gates,
    _ask_for_more,
    _give_a_reason,
    _correct_otherwise,
    _bound_otherwise,
    _spread_otherwise,
)
