"""Golden cases: current, voltage and control transformers.

By hand, after relays-and-apparatus D5 (If 20 kA, 1200:5, X/R 12, C400 of 4 ohm): the
highest burden is 20 x 4 / (13 x 16.667) = 0.36923 ohm, with 40 % remanence 0.22154.
"""

from typing import Any

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

C400 = {
    "ct_class": "C400",
    "ct_primary_a": 1200.0,
    "ct_secondary_a": 5.0,
    "fault_ka": 20.0,
    "x_over_r": 12.0,
}
HALF_PCT = {"pct": 0.5, "fixed": 0.0, "unit": None}
W, X, U = hand("within"), hand("outside"), hand("unjudged")


def case(
    procedure: str,
    name: str,
    text: str,
    found: Hand,
    why: str = "",
    *,
    unit: str | None = None,
    subject: dict[str, Any] | None = None,
    accuracy: dict[str, Any] | None = None,
    **conditions: Any,
) -> Case:
    known = {name: value for name, value in conditions.items() if value is not None}
    given = Given(text=text, unit=unit, accuracy=accuracy, conditions=known)
    return Case(
        name=f"{procedure}: {name}",
        procedure=procedure,
        subject=Subject(**(subject or {})),
        readings=(given,),
        by_hand=(found,),
        why=why,
    )


def burden(
    name: str,
    text: str,
    found: Hand,
    why: str = "",
    *,
    injected_a: float | None = 5.0,
    accuracy: dict[str, Any] | None = None,
    **other: Any,
) -> Case:
    at = {} if injected_a is None else {"injected_a": injected_a}
    known = {**C400, **other}
    return case(
        "ct_burden",
        name,
        text,
        found,
        why,
        unit="V",
        subject=known,
        accuracy=accuracy,
        **at,
    )


BURDENS = (
    burden("carried", "1.72", W, "1.72 / 5 = 0.344 ohm"),
    burden("with remanence", "1.72", X, "0.344 > 0.22154", remanence_pct=40.0),
    burden(
        "with the winding",
        "0.02",
        W,
        "20 x 4.4 / 216.667 - 0.4 = 0.00615; 0.02 / 5 = 0.004",
        ct_rct_ohm=0.4,
        saturation_form="winding_and_burden",
    ),
    burden(
        "too close to tell",
        "1.845",
        hand("marginal"),
        "0.369; U 0.577 % of it = 0.00213",
        accuracy=HALF_PCT,
    ),
    burden("too little injected", "0.34", U, injected_a=1.0),
    burden("nothing injected", "0.34", U, injected_a=None),
    burden("no ratio", "1.72", U, ct_primary_a=None, ct_secondary_a=None),
    burden(
        "a P class",
        "4.2",
        X,
        "20 x (3 + 15) / (13 x 20000 / 1200) - 3 is below 0: at most 0",
        injected_a=1.0,
        ct_class="5P",
        ct_alf=20.0,
        ct_burden_va=15.0,
        ct_secondary_a=1.0,
        ct_rct_ohm=3.0,
    ),
)
CT = {"ct_primary_a": 1200.0, "ct_secondary_a": 5.0, "knee_v": 264.0}
BELOW = {"ratio_method": "voltage", "applied_v": 100.0}
RATED = {"ratio_method": "current", "test_current_a": 1200.0}
TENTH_PCT = {"pct": 0.1, "fixed": 0.0, "unit": None}


def ratio(name: str, text: str, found: Hand, why: str = "", **other: Any) -> Case:
    known = {key: other.pop(key) for key in ("ct_class",) if key in other}
    at = {"unit": ":1", "subject": CT | known, **BELOW, **other}
    return case("ct_ratio", name, text, found, why, **at)


CT_RATIOS = (
    ratio("by voltage, at 1 %", "242.4", W, "1.01 x 240 = 242.4"),
    ratio("by voltage, above it", "242.5", X),
    ratio("by voltage, below it", "237.5", X, "0.99 x 240 = 237.6"),
    ratio(
        "by voltage, too close to tell",
        "242.3",
        hand("marginal"),
        "U 0.1 % / sqrt(3) x 2 = 0.28",
        accuracy=TENTH_PCT,
    ),
    ratio("above the knee", "240", U, applied_v=300.0),
    ratio("by current, class 0.5", "241.3", X, "0.54 %", ct_class="0.5", **RATED),
    ratio("by current, class 0.3", "240.7", W, "0.29 %", ct_class="0.3", **RATED),
    ratio("by current, 5P", "242.4", W, "1 %", ct_class="5P", **RATED),
    ratio("by current, a C class", "240.7", U, ct_class="C400", **RATED),
    ratio(
        "by current, too little",
        "240",
        U,
        ct_class="0.3",
        **RATED | {"test_current_a": 600.0},
    ),
    ratio("no ratio on the plate", "240", U, subject={}),
)


def winding(name: str, text: str, found: Hand, why: str = "", **other: Any) -> Case:
    at = {
        "unit": "Ohm",
        "subject": {"ct_rct_ohm": 0.45},
        "temperature_c": 18.0,
        **other,
    }
    return case("ct_winding_resistance", name, text, found, why, **at)


WINDINGS = (
    winding("cold", "0.352", hand("within", corrected=0.43146), "x 309.5 / 252.5"),
    winding("too high", "0.370", X, "0.4535 ohm at 75 degC"),
    winding(
        "too close to tell", "0.367", hand("marginal"), "0.44984", accuracy=HALF_PCT
    ),
    winding("no temperature", "0.352", U, temperature_c=None),
    winding("nothing on the plate", "0.352", U, subject={}),
)
VT = {"vt_primary_v": 14400.0, "vt_secondary_v": 120.0}


def vt(name: str, text: str, found: Hand, why: str = "", **other: Any) -> Case:
    known = {"vt_class": other.pop("vt_class", "0.3")}
    at = {"unit": ":1", "subject": VT | known, "applied_v": 480.0, **other}
    return case("vt_ratio", name, text, found, why, **at)


VT_RATIOS = (
    vt("at the class", "120.36", W, "1.003 x 120"),
    vt("119.4 on 120", "119.4", X, "-0.5 %, class 0.3"),
    vt("119.4 on 120, class 0.5", "119.4", W, "-0.50000 %", vt_class="0.5"),
    vt("no class", "119.3", X, "0.58 %, half a percent from memory", vt_class=None),
    vt("too close to tell", "120.3", hand("marginal"), "U 0.139", accuracy=TENTH_PCT),
    vt("voltage not known", "120", U, applied_v=None),
)


def vt_burden(name: str, text: str, found: Hand, why: str = "", **other: Any) -> Case:
    known = {"vt_burden_va": 75.0, "vt_secondary_v": 120.0}
    at = {"unit": "A", "subject": known, "applied_v": 120.0, **other}
    return case("vt_burden", name, text, found, why, **at)


VT_BURDENS = (
    vt_burden("carried", "0.62", W, "120 / 0.62 = 193.5, least 120 x 120 / 75 = 192"),
    vt_burden("too much", "0.63", X, "190.5"),
    vt_burden("at another voltage", "0.30", W, "60 / 0.30 = 200", applied_v=60.0),
    vt_burden("too close to tell", "0.625", hand("marginal"), "192", accuracy=HALF_PCT),
    vt_burden("no current at all", "0", U),
    vt_burden("nothing on the plate", "0.3", U, subject={}),
)


def held(name: str, found: Hand, why: str = "", **other: Any) -> Case:
    text, level = other.pop("text", "held"), other.pop("test_kv", 25.5)
    at = {"supply": "ac", "test_kv": level, "duration_s": 60.0, **other}
    known = {"subject": {"rated_impulse_kv": 95.0}}
    named = "instrument_transformer_withstand"
    return case(named, name, text, found, why, **known | at)


# Table 100.9 as far as it is published: 34 kV at the factory, 0.75 of it in the field.
WITHSTANDS = (
    held("held", hand("within", limit_low=25.5), "0.75 x 34"),
    held("broke down", X, text="broke_down", test_kv=12.0),
    held("far above", hand("marginal"), "over 26.8", test_kv=30.0),
    held("too low", U, test_kv=20.0),
    held("dc", hand("within", limit_low=34), "factory", supply="dc", test_kv=34.0),
    held(
        "by its own rating",
        W,
        "0.75 x 36",
        subject={"rated_withstand_kv": 36.0},
        test_kv=27.0,
    ),
    held("dc, nothing known", U, subject={}, supply="dc"),
    held("a level that is none", U, subject={"rated_impulse_kv": 97.0}),
)
CASES = (
    *CT_RATIOS,
    *WINDINGS,
    *VT_RATIOS,
    *VT_BURDENS,
    *WITHSTANDS,
    *BURDENS,
    case("ct_polarity", "as drawn", "as_expected", W),
    case("ct_polarity", "turned round", "not_as_expected", X),
    case("ct_shorting", "closed", "as_expected", W),
    case("ct_shorting", "open", "not_as_expected", X),
    case("ct_shorting", "none there", "not_fitted", W),
    case("vt_fuses", "as drawn", "as_expected", W),
    case("vt_fuses", "a link", "not_as_expected", X),
    case("vt_polarity", "as drawn", "as_expected", W),
    case("vt_polarity", "turned round", "not_as_expected", X),
)
