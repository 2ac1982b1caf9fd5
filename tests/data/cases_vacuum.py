"""Golden cases: vacuum integrity.

By hand: 0.75 of the rated withstand; at most 0.01 Pa, 1 mbar = 100 Pa,
1 Torr = 101 325 / 760 Pa = 133.322 Pa.
"""

from typing import Any

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

CLAD15 = Subject(gear="metal_clad", rated_kv=15.0)
TEN_PCT = {"pct": 10.0, "fixed": 0.0, "unit": None}


def pressure(
    text: str,
    unit: str = "Pa",
    method: str | None = "magnetron",
    accuracy: dict[str, Any] | None = None,
) -> Given:
    conditions = {} if method is None else {"method": method}
    return Given(text=text, unit=unit, accuracy=accuracy, conditions=conditions)


def gap(text: str, method: str, test_kv: float, duration_s: float = 60.0) -> Given:
    conditions = {"method": method, "test_kv": test_kv, "duration_s": duration_s}
    return Given(text=text, conditions=conditions)


def case(
    name: str,
    given: Given,
    found: Hand | None = None,
    why: str = "",
    subject: Subject = CLAD15,
    procedure: str = "vacuum_integrity",
) -> Case:
    return Case(
        name=f"vacuum: {name}",
        procedure=procedure,
        subject=subject,
        readings=(given,),
        by_hand=() if found is None else (found,),
        why=why,
    )


GAP = (
    case("held", gap("held", "ac", 27.0), hand("within", limit_low=27), "0.75 x 36"),
    case("too low", gap("held", "ac", 26.0), hand("unjudged", limit_low=27)),
    case("too short", gap("held", "ac", 27.0, 30.0), hand("unjudged")),
    case("far above", gap("held", "ac", 36.0), hand("marginal"), "over 28.35"),
    case("broke down", gap("broke_down", "ac", 12.0), hand("outside")),
    case(
        "broke down at dc without a level",
        gap("broke_down", "dc", 12.0),
        hand("outside"),
    ),
    case(
        "the breaker's own rating",
        gap("held", "ac", 37.5),
        hand("within", limit_low=37.5),
        "0.75 x 50 = 37.5",
        subject=Subject(rated_kv=15.0, rated_withstand_kv=50.0),
    ),
    case(
        "the maker's level",
        gap("held", "ac", 40.0),
        hand("within", limit_low=40),
        subject=Subject(rated_kv=15.0, rated_withstand_kv=50.0, vacuum_ac_kv=40.0),
    ),
    case("dc without a level", gap("held", "dc", 50.0), hand("unjudged")),
    case(
        "dc to the maker's level",
        gap("held", "dc", 50.0),
        hand("within", limit_low=50),
        subject=Subject(rated_kv=15.0, vacuum_dc_kv=50.0),
    ),
    case(
        "a rating that the table does not have",
        gap("held", "ac", 27.0),
        hand("unjudged", limit_low=None),
        subject=Subject(rated_kv=12.0),
    ),
    case("held, and the method not said", Given(text="held"), hand("unjudged")),
    case("held by the magnetron", gap("held", "magnetron", 27.0), hand("unjudged")),
    case("a number across the gap", pressure("0.001", "Pa", "ac"), hand("unjudged")),
)

PRESSURE = (
    case(
        "at the highest pressure",
        pressure("1e-2"),
        hand("within", corrected=0.01, limit_high=0.01),
    ),
    case("above the highest pressure", pressure("0.0101"), hand("outside")),
    case("far below", pressure("2.5e-6"), hand("within", corrected=2.5e-6)),
    case("in mbar, at the highest", pressure("1e-4", "mbar"), hand("within")),
    case("in mbar, above", pressure("1.01e-4", "mbar"), hand("outside")),
    case(
        "in torr, below",
        pressure("7.5e-5", "torr"),
        hand("within", corrected=0.00999918),
        "7.5e-5 x 133.322 = 0.0099992",
    ),
    case(
        "in torr, above",
        pressure("7.51e-5", "Torr"),
        hand("outside", corrected=0.0100125),
        "7.51e-5 x 133.322 = 0.0100125",
    ),
    case("under range", pressure("<1e-3"), hand("within", corrected=0.001)),
    case("under range at the highest", pressure("<1e-2"), hand("within")),
    case("under range from above", pressure("<2e-2"), hand("unjudged")),
    case("over range at the highest", pressure(">1e-2"), hand("unjudged")),
    case("over range from below", pressure(">1e-3"), hand("unjudged")),
    case("over range from above", pressure(">2e-2"), hand("outside")),
    case(
        "below by less than U",
        pressure("0.009", accuracy=TEN_PCT),
        hand("marginal", uncertainty=0.00103923),
        "U = 1.1547 x 0.0009; 0.010039",
    ),
    case(
        "below by more than U",
        pressure("0.0086", accuracy=TEN_PCT),
        hand("within", uncertainty=0.000993043),
        "U = 1.1547 x 0.00086; 0.009593",
    ),
    case(
        "above by more than U",
        pressure("0.012", accuracy=TEN_PCT),
        hand("outside", uncertainty=0.00138564),
        "U = 1.1547 x 0.0012; 0.010614",
    ),
    case(
        "a fixed part in another unit",
        pressure("8e-5", "mbar", accuracy={"pct": 0.0, "fixed": 0.002, "unit": "Pa"}),
        hand("marginal", corrected=0.008, uncertainty=0.0023094),
        "U = 1.1547 x 0.002; 0.0103",
    ),
    case(
        "a fixed part in mbar, read in Pa",
        pressure("0.008", accuracy={"pct": 0.0, "fixed": 2e-5, "unit": "mbar"}),
        hand("marginal", uncertainty=0.0023094),
        "2e-5 mbar = 0.002 Pa; U = 1.1547 x 0.002; 0.0103",
    ),
    case(
        "a fixed part in torr, read in Pa",
        pressure("0.008", accuracy={"pct": 0.0, "fixed": 7.5e-6, "unit": "Torr"}),
        hand("within", uncertainty=0.00115461),
        "7.5e-6 x 133.322 = 9.9992e-4; U = 1.1547 x that; 0.00915",
    ),
    case(
        "a fixed part in Pa, read in torr",
        pressure("6e-5", "Torr", accuracy={"pct": 0.0, "fixed": 1e-3, "unit": "Pa"}),
        hand("within", corrected=0.00799934, uncertainty=0.0011547),
        "6e-5 x 133.322 = 0.0079993; U = 1.1547 x 0.001; 0.00915",
    ),
    case(
        "the maker's pressure",
        pressure("5e-3"),
        hand("within", limit_high=0.005),
        subject=Subject(vacuum_limit_pa=5e-3),
    ),
    case(
        "above the maker's pressure, given in mbar",
        pressure("5.1e-3"),
        hand("outside", limit_high=0.005),
        subject=Subject(method="magnetron", limit=5e-5, limit_unit="mbar"),
    ),
    case("the method not said", pressure("1e-3", method=None), hand("unjudged")),
    case("another method", pressure("1e-3", method="dc"), hand("unjudged")),
)

OWN = "vacuum_pressure"
OWN_CARD = (
    case(
        "on a card of its own, in micropascals",
        Given(text="300", unit="uPa"),
        hand("within", corrected=0.0003, limit_high=0.01),
        procedure=OWN,
    ),
    case(
        "on a card of its own, within U",
        Given(text="9", unit="mPa", accuracy=TEN_PCT),
        hand("marginal", corrected=0.009, uncertainty=0.00103923),
        "U = 1.1547 x 0.0009; 0.010039",
        procedure=OWN,
    ),
    case(
        "on a card of its own, above the maker's",
        Given(text="1.3e-3", unit="Pa"),
        hand("outside", limit_high=0.001),
        subject=Subject(vacuum_limit_pa=1e-3),
        procedure=OWN,
    ),
    case(
        "on a card of its own, over range below the limit",
        Given(text=">1e-3", unit="Pa"),
        hand("unjudged"),
        procedure=OWN,
    ),
)

CASES = (*GAP, *PRESSURE, *OWN_CARD)
