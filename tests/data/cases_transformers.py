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
    given = Given(text=text, unit=unit, accuracy=accuracy, conditions=conditions)
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
CASES = (
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
