"""Golden cases: what is judged by a curve of readings.

By hand, after programme 6.1 and 6.3: E at 10 A is 437.81 V, so that a C400 of 0.30 ohm
keeps 407.81 V at its terminals and one of 0.40 ohm 397.81 V; its knees are 264.41 V by
rise, 226.38 and 248.77 V by the tangent. A hemisphere of 15.915 ohm, current probe at
50 m: the readings about 62 % lie within 4.04 %, at 20 m within 10.05 %.
"""

from typing import Any

from models.procedures import Subject
from tests.data.cases_words_rows import CURVE, FIFTY
from tests.data.golden_case import Case, Given, Hand, hand

W, X, U = hand("within"), hand("outside"), hand("unjudged")
HALF_PCT = {"pct": 0.5, "fixed": 0.0, "unit": None}
TWENTY = "4:12.136 8:14.457 10.4:15.247 12.4:15.930 14.4:16.857 16:18.104"


def case(
    procedure: str,
    name: str,
    given: Given,
    found: Hand,
    why: str = "",
    **subject: Any,
) -> Case:
    return Case(
        name=f"{procedure}: {name}",
        procedure=procedure,
        subject=Subject(**subject),
        readings=(given,),
        by_hand=(found,),
        why=why,
    )


def core(
    name: str,
    text: str,
    found: Hand,
    why: str = "",
    *,
    curve: str = CURVE,
    accuracy: Any = None,
    **subject: Any,
) -> Case:
    conditions = {"excitation": curve} if curve else {}
    given = Given(text=text, unit="V", accuracy=accuracy, conditions=conditions)
    return case("ct_excitation", name, given, found, why, **subject)


def ground(name: str, text: str, found: Hand, why: str = "", **given: Any) -> Case:
    limit = given.pop("ground_limit_ohm", None)
    known = {"ground_method": "fall", "probe_m": 50.0, "fall": FIFTY, **given}
    accuracy = known.pop("accuracy", None)
    conditions = {name: value for name, value in known.items() if value is not None}
    reading = Given(text=text, unit="Ohm", accuracy=accuracy, conditions=conditions)
    return case("ground_resistance", name, reading, found, why, ground_limit_ohm=limit)


C400 = {"ct_class": "C400", "ct_rct_ohm": 0.3}
PAIRS = CURVE.split()

PE = {"cable_insulation": "pe"}
NEW = "0.5:1.0 1:1.1 1.5:1.4"


def loss(
    name: str,
    text: str,
    row: str,
    found: Hand,
    why: str = "",
    *,
    stability_e3: float | None = 0.05,
    accuracy: Any = None,
    **subject: Any,
) -> Case:
    known = {"tan_delta": row, "stability_e3": stability_e3}
    conditions = {name: value for name, value in known.items() if value is not None}
    reading = Given(text=text, unit="1e-3", accuracy=accuracy, conditions=conditions)
    return case("cable_tan_delta", name, reading, found, why, **{**PE, **subject})


TENTH = {"pct": 0.0, "fixed": 0.1, "unit": None}
LOSS = (
    loss("a new cable of polyethylene", "1.1", NEW, W, "tip-up 0.4"),
    loss(
        "a mean to be studied", "12", "0.5:11 1:12 1.5:14", hand("marginal"), "4 to 50"
    ),
    loss("a mean beyond", "51", "0.5:49 1:51 1.5:55", X, "above 50"),
    loss(
        "the same in filled rubber",
        "51",
        "0.5:49 1:51 1.5:53",
        hand("marginal"),
        cable_insulation="epr",
    ),
    loss("a tip-up beyond", "3", "0.5:2 1:3 1.5:90", X, "88 is above 80"),
    loss("readings that wander", "1.1", NEW, X, "0.6 is above 0.5", stability_e3=0.6),
    loss(
        "near the first end",
        "3.95",
        "0.5:3.9 1:3.95 1.5:4.0",
        hand("marginal"),
        "U is 0.12",
        accuracy=TENTH,
    ),
    loss("deviation not known", "1.1", NEW, U, stability_e3=None),
    loss("a value that is not the row's", "1.3", NEW, U, "18 % off"),
    loss("without 1.5 of the voltage", "1.1", "0.5:1.0 0.75:1.05 1:1.1", U),
    loss("paper, which the table has not", "1.1", NEW, U, cable_insulation="paper"),
    loss("insulation not known", "1.1", NEW, U, cable_insulation=None),
)

CASES = (
    core("a C class", "407.8", W, "407.81 V at the terminals", **C400),
    core(
        "a C class with more winding",
        "397.8",
        X,
        "397.81 V",
        ct_class="C400",
        ct_rct_ohm=0.4,
    ),
    core(
        "the same with a voltmeter of 0.5 %",
        "397.8",
        hand("marginal"),
        "U is 2.5277 V",
        accuracy=HALF_PCT,
        ct_class="C400",
        ct_rct_ohm=0.4,
    ),
    core("a C class without its winding", "407.8", U, ct_class="C400"),
    core("a C class of 1 A", "407.8", U, ct_secondary_a=1.0, **C400),
    core("another value than the curve's", "420", U, "420 / 407.81", **C400),
    core("PX", "264.4", W, "264.41 V", ct_class="PX", knee_v=264.0),
    core("PX below its plate", "264.4", X, "264.41 V", ct_class="PX", knee_v=265.0),
    core("a knee by tangent", "407.8", X, "226.38 V", knee_v=227.0, **C400),
    core("gapped", "407.8", W, "248.77", knee_v=248.0, ct_gapped=True, **C400),
    core("the maker's curve", "264.4", W, "0.75 x 264.41", ct_curve=CURVE),
    core("no limit", "264.4", U),
    core("no curve", "264.4", U, curve="", ct_class="PX", knee_v=250.0),
    core(
        "seven points",
        "264.4",
        U,
        curve=" ".join(PAIRS[9:16]),
        ct_class="PX",
        knee_v=250.0,
    ),
    core(
        "a level in it",
        "264.4",
        U,
        curve=CURVE.replace("200:0.03782", "200:0.03431"),
        ct_class="PX",
        knee_v=250.0,
    ),
    core(
        "stopped below the knee",
        "264.4",
        U,
        curve=" ".join(PAIRS[:13]),
        ct_class="PX",
        knee_v=250.0,
    ),
    ground("above 5 ohm", "15.9", X, "15.916 ohm"),
    ground("a limit of the site", "15.9", W, "below 16 ohm", ground_limit_ohm=16.0),
    ground(
        "too close to tell",
        "15.9",
        hand("marginal"),
        "U 0.577 % of 15.916 = 0.092",
        ground_limit_ohm=16.0,
        accuracy=HALF_PCT,
    ),
    ground("the probe too near", "15.9", U, "10.05 %", probe_m=20.0, fall=TWENTY),
    ground("no distance", "15.9", U, probe_m=None),
    ground("another value than the curve's", "14", U, ground_limit_ohm=16.0),
    ground("by clamp", "4", W, ground_method="clamp", fall=None),
    ground("between two points", "4", U, ground_method="two_point", fall=None),
    *LOSS,
)
