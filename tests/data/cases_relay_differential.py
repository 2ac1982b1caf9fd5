"""Golden cases: a dual-slope differential, with taps of 4.9 and 3.6 A.

By hand: on the first slope of 25 % through the origin the operate current at restraint
2 is 0.5 of tap: 2.45 A; beyond the break at 3 with 60 % it is 0.75 + 0.6 x 2 = 1.95 at
5: 9.555 A. The band is the greater of 2 % and 0.05 A.
"""

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

ORIGIN = Subject(
    diff_form="origin",
    diff_pickup_pu=0.3,
    slope_1_pct=25.0,
    slope_2_pct=60.0,
    break_pu=3.0,
    restraint_as="average",
    tap_1_a=4.9,
    tap_2_a=3.6,
)
FROM_PICKUP = ORIGIN.but(diff_form="from_pickup", slope_1_pct=30.0, slope_2_pct=70.0)
DECLARED = ORIGIN.but(diff_tolerance_pct=5.0)


def case(
    name: str,
    text: str,
    restraint_pu: float | None,
    found: Hand,
    subject: Subject = ORIGIN,
    test: str | None = "characteristic",
) -> Case:
    known = {"restraint_pu": restraint_pu, "differential_test": test}
    given = Given(
        text=text,
        unit=None if text == "no_trip" else "A",
        accuracy={"pct": 0.2, "fixed": 0.0, "unit": None},
        conditions={name: value for name, value in known.items() if value is not None},
    )
    return Case(
        name=f"differential: {name}",
        procedure="relay_differential",
        subject=subject,
        readings=(given,),
        by_hand=(found,),
    )


AT_2 = {"limit_low": 2.40, "limit_high": 2.50}
CASES = (
    case("on the first slope", "2.46", 2.0, hand("within", **AT_2)),
    # 0.515 of tap; 0.515 x 4.9 = 2.5235
    case("beyond 2 % and 0.05 A", "2.5235", 2.0, hand("outside", **AT_2)),
    # 0.5 +- 5 % of tap: 2.3275 to 2.5725
    case(
        "inside a declared 5 %",
        "2.5235",
        2.0,
        hand("within", limit_low=2.3275, limit_high=2.5725),
        DECLARED,
    ),
    case("at the edge", "2.498", 2.0, hand("marginal", **AT_2)),
    # 2 % of 9.555 is 0.1911
    case(
        "on the second slope",
        "9.70",
        5.0,
        hand("within", limit_low=9.3639, limit_high=9.7461),
    ),
    # 0.48 of tap: 2.352
    case(
        "from the pickup",
        "2.35",
        0.75,
        hand("within", limit_low=2.302, limit_high=2.402),
        FROM_PICKUP,
    ),
    case("stable", "no_trip", 8.0, hand("within"), test="through_fault"),
    case("not stable", "1.2", 8.0, hand("outside"), test="through_fault"),
    case("did not operate at all", "no_trip", 2.0, hand("unjudged")),
    case("no restraint", "2.46", None, hand("unjudged")),
    case("no test said", "2.46", 2.0, hand("unjudged"), test=None),
    case("no form", "2.46", 2.0, hand("unjudged"), ORIGIN.but(diff_form=None)),
    case("no slope", "2.46", 2.0, hand("unjudged"), ORIGIN.but(slope_2_pct=None)),
    case("break too early", "2.46", 2.0, hand("unjudged"), ORIGIN.but(break_pu=1.0)),
    case("beyond all restraint", "2.46", 60.0, hand("unjudged")),
)
