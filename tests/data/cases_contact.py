"""Golden cases: contact resistance.

By hand: R20 = R (k + 20) / (k + T), k = 234.5 for copper and 228.1 for aluminium;
each pole at most 1.5 times the lowest of its group, at most the maker's limit.
"""

from typing import Any

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

COPPER = Subject(conductor="copper")
LIMIT_50 = Subject(conductor="copper", limit=50.0, limit_unit="uOhm")
FIVE_PCT = {"pct": 5.0, "fixed": 0.0, "unit": None}


def at(
    text: str,
    unit: str = "uOhm",
    temperature_c: float | None = 20.0,
    test_current_a: float | None = 100.0,
    accuracy: dict[str, Any] | None = None,
    subject: Subject | None = None,
) -> Given:
    conditions = {"temperature_c": temperature_c, "test_current_a": test_current_a}
    known = {name: value for name, value in conditions.items() if value is not None}
    return Given(
        text=text, unit=unit, accuracy=accuracy, conditions=known, subject=subject
    )


def case(
    name: str,
    given: tuple[Given, ...],
    found: tuple[Hand, ...] = (),
    why: str = "",
    subject: Subject = COPPER,
) -> Case:
    return Case(
        name=f"contact: {name}",
        procedure="contact_resistance",
        subject=subject,
        readings=given,
        by_hand=found,
        why=why,
    )


GROUP = (
    case(
        "at 1.5 times the lowest exactly",
        (at("40"), at("45"), at("60")),
        (hand("within", limit_high=60),) * 3,
        "1.5 x 40 = 60",
    ),
    case(
        "one digit above 1.5 times the lowest",
        (at("40"), at("45"), at("60.1")),
        (hand("within"), hand("within"), hand("outside", limit_high=60)),
        "1.5 x 40 = 60",
    ),
    case(
        "the lowest comes last",
        (at("66.1"), at("66.0"), at("44.0")),
        (hand("outside"), hand("within"), hand("within", limit_high=66)),
        "1.5 x 44 = 66",
    ),
    case("two lowest alike", (at("40"), at("40"), at("41"))),
    case("units mixed", (at("0.040", "mΩ"), at("60", "µΩ"), at("60.1", "μΩ"))),
    case(
        "alone and without a limit",
        (at("40"),),
        (hand("unjudged", corrected=40, limit_high=None),),
    ),
    case(
        "all are nothing",
        (at("0"), at("0")),
        (hand("unjudged", corrected=0),) * 2,
        "nothing is no reading",
    ),
    case(
        "one is nothing",
        (at("0", accuracy=FIVE_PCT), at("5", accuracy=FIVE_PCT)),
        (hand("unjudged"), hand("unjudged", limit_high=None)),
        "nothing is no reading, and the other is alone",
    ),
)

LIMIT = (
    case(
        "at the maker's limit exactly",
        (at("50"),),
        (hand("within", limit_high=50),),
        subject=LIMIT_50,
    ),
    case(
        "one digit above the maker's limit",
        (at("50.1"),),
        (hand("outside", limit_high=50),),
        subject=LIMIT_50,
    ),
    case(
        "a limit in milliohm",
        (at("0.0500", "mOhm"), at("50.1")),
        (hand("within", limit_high=50), hand("outside", limit_high=50)),
        subject=Subject(limit=0.05, limit_unit="mOhm"),
    ),
    case(
        "good against the group, bad against the limit",
        (at("49"), at("51"), at("52")),
        (hand("within"), hand("outside"), hand("outside", limit_high=50)),
        subject=LIMIT_50,
    ),
    case(
        "good against the limit, bad against the group",
        (at("20"), at("30.1"), at("30")),
        (hand("within"), hand("outside", limit_high=30), hand("within")),
        "1.5 x 20 = 30",
        subject=LIMIT_50,
    ),
    case(
        "only one pole of the group has a limit",
        (at("60", subject=LIMIT_50), at("61")),
        (hand("outside", limit_high=50), hand("within", limit_high=90)),
        "60 > 50; 61 <= 1.5 x 60",
    ),
    case("large values change their unit", (at("2500000"), at("2500"), at("3000"))),
)

TEMPERATURE = (
    case(
        "copper at 30 degC",
        (at("44.0", temperature_c=30.0), at("40.0")),
        (hand("within", corrected=42.3365), hand("within", corrected=40)),
        "44.0 x 254.5 / 264.5 = 42.3365",
    ),
    case(
        "aluminium at 30 degC",
        (at("44.0", temperature_c=30.0), at("40.0")),
        (hand("within", corrected=42.2952), hand("within")),
        "44.0 x 248.1 / 258.1 = 42.2952",
        subject=Subject(conductor="aluminium"),
    ),
    case(
        "copper at 0 degC",
        (at("44.0", temperature_c=0.0), at("47.0", temperature_c=0.0)),
        (hand("within", corrected=47.7527), hand("outside", corrected=51.0085)),
        "44.0 x 254.5 / 234.5 = 47.7527; 47.0 x 1.085288 = 51.0085; at most 50",
        subject=LIMIT_50,
    ),
    case(
        "a warm pole beside a cold one, within",
        (at("40"), at("62", temperature_c=35.0)),
        (hand("within"), hand("within", corrected=58.5492, limit_high=60)),
        "62 x 254.5 / 269.5 = 58.5492; at most 60",
    ),
    case(
        "a warm pole beside a cold one, outside",
        (at("40"), at("64", temperature_c=35.0)),
        (hand("within"), hand("outside", corrected=60.4378)),
        "64 x 254.5 / 269.5 = 60.4378; at most 60",
    ),
    case("conductor not stated", (at("40", temperature_c=25.0),), subject=Subject()),
    case("colder than metals know", (at("40", temperature_c=-234.5), at("40"))),
)

GATES = (
    case(
        "test current at what is wanted",
        (at("40", test_current_a=100.0), at("41", test_current_a=200.0)),
        (hand("within"), hand("within")),
    ),
    case(
        "test current below: no part in the comparison",
        (at("30", test_current_a=99.9), at("40"), at("60")),
        (hand("unjudged"), hand("within"), hand("within", limit_high=60)),
        "the 30 is left out: 1.5 x 40 = 60",
    ),
    case(
        "test current not known",
        (at("40", test_current_a=None), at("41"), at("70")),
        (hand("unjudged"), hand("within"), hand("outside", limit_high=61.5)),
        "1.5 x 41 = 61.5",
    ),
    case(
        "temperature not known: no part in the comparison",
        (at("30", temperature_c=None), at("40"), at("60")),
        (hand("unjudged", corrected=None), hand("within"), hand("within")),
    ),
    case(
        "only one of the group can be judged",
        (at("30", temperature_c=None), at("40")),
        (hand("unjudged"), hand("unjudged")),
    ),
    case(
        "only one of the group can be judged, with a limit",
        (at("30", test_current_a=10.0), at("50")),
        (hand("unjudged"), hand("within", limit_high=50)),
        subject=LIMIT_50,
    ),
    case("nothing is known", (at("40", temperature_c=None, test_current_a=None),)),
)

RANGE = (
    case(
        "over range above the group and the limit",
        (at(">200"), at("45")),
        (hand("outside", corrected=200, limit_high=50), hand("within")),
        "at least 200, at most 1.5 x 45 and at most 50",
        subject=LIMIT_50,
    ),
    case(
        "over range from below the limit",
        (at(">40"),),
        (hand("unjudged", limit_high=50),),
        "at least 40 may be above 50",
        subject=LIMIT_50,
    ),
    case(
        "over range at the limit",
        (at(">50"),),
        (hand("unjudged"),),
        subject=LIMIT_50,
    ),
    case(
        "over range above the limit",
        (at(">50.1"),),
        (hand("outside"),),
        subject=LIMIT_50,
    ),
    case(
        "over range at 1.5 times the lowest",
        (at(">67.5"), at("45")),
        (hand("unjudged"), hand("within")),
        "1.5 x 45 = 67.5: it may be just that",
    ),
    case(
        "over range beyond 1.5 times the lowest",
        (at(">67.6"), at("45")),
        (
            hand(
                "outside",
                "At least 67.60 µΩ is above 1.5 × the lowest of its group "
                "45.00 µΩ, i.e. 67.50 µΩ.",
                limit_high=67.5,
            ),
            hand("within"),
        ),
        "1.5 x 45 = 67.5",
    ),
    case(
        "over range below the lowest number",
        (at(">20"), at("45")),
        (hand("unjudged"), hand("unjudged")),
        "the lowest is between 20 and 45: 1.5 x 20 = 30, 1.5 x 45 = 67.5",
    ),
    case(
        "over range near the lowest number",
        (at(">40"), at("45")),
        (
            hand("unjudged"),
            hand(
                "within",
                "45.00 µΩ is at most 1.5 × the lowest of its group "
                "(at least 40.00 µΩ), i.e. 60.00 µΩ.",
            ),
        ),
        "the lowest is between 40 and 45: 45 <= 1.5 x 40",
    ),
    case(
        "all over range",
        (at(">200"), at(">2", "mOhm")),
        (hand("unjudged"), hand("unjudged")),
    ),
    case(
        "all over range, with a limit",
        (at(">200"), at(">200")),
        (hand("outside"), hand("outside")),
        subject=LIMIT_50,
    ),
    case(
        "under range and far below the other",
        (at("<10"), at("45")),
        (
            hand("unjudged"),
            hand(
                "outside",
                "45.00 µΩ is above 1.5 × the lowest of its group "
                "(at most 10.00 µΩ), i.e. 15.00 µΩ.",
            ),
        ),
        "at most 1.5 x 10 = 15",
    ),
    case(
        "over range short of a number, and of 1.5 times itself",
        (at(">40"), at("60.1")),
        (hand("unjudged"), hand("unjudged")),
        "the lowest is between 40 and 60.1: 60.1 > 1.5 x 40",
    ),
    case(
        "under range and over range",
        (at("<10"), at(">15.1"), at(">14")),
        (
            hand("unjudged"),
            hand(
                "outside",
                "At least 15.10 µΩ is above 1.5 × the lowest of its group "
                "(at most 10.00 µΩ), i.e. 15.00 µΩ.",
            ),
            hand("unjudged"),
        ),
        "at most 1.5 x 10 = 15",
    ),
    case(
        "under range above the lowest number",
        (at("<60"), at("40")),
        (hand("unjudged"), hand("unjudged")),
        "the lowest is between 0 and 40",
    ),
    case(
        "under range at the limit",
        (at("<50"),),
        (hand("within", limit_high=50),),
        subject=LIMIT_50,
    ),
    case(
        "under range above the limit",
        (at("<50.1"),),
        (hand("unjudged"),),
        subject=LIMIT_50,
    ),
)

UNCERTAINTY = (
    case(
        "ratio at its limit",
        (at("40", accuracy=FIVE_PCT), at("60", accuracy=FIVE_PCT)),
        (hand("within", uncertainty=2.3094), hand("marginal", uncertainty=3.4641)),
        "U relative 0.057735 each, 0.08165 together: 1.5 +- 0.1225",
    ),
    case(
        "ratio below by more than U",
        (at("40", accuracy=FIVE_PCT), at("50", accuracy=FIVE_PCT)),
        (hand("within"), hand("within")),
        "1.25 + 1.25 x 0.08165 = 1.352",
    ),
    case(
        "ratio above by more than U",
        (at("40", accuracy=FIVE_PCT), at("70", accuracy=FIVE_PCT)),
        (hand("within"), hand("outside")),
        "1.75 - 1.75 x 0.08165 = 1.607",
    ),
    case(
        "ratio above by less than U",
        (at("40", accuracy=FIVE_PCT), at("64", accuracy=FIVE_PCT)),
        (hand("within"), hand("marginal")),
        "1.6 - 1.6 x 0.08165 = 1.469",
    ),
    case(
        "a fixed part and a correction",
        (
            at("40", "uOhm", 31.5, 200.0, {"pct": 0.25, "fixed": 0.5, "unit": "uOhm"}),
            at("0.058", "mOhm", 31.5, 200.0, FIVE_PCT | {"pct": 0.25}),
        ),
    ),
    case(
        "an accuracy on one side only: compared simply",
        (at("40"), at("60", accuracy=FIVE_PCT), at("60.1", accuracy=FIVE_PCT)),
        (hand("within"), hand("within"), hand("outside")),
        "1.5 x 40 = 60, U of the lowest not known",
    ),
    case(
        "below the limit by less than U",
        (at("48", accuracy=FIVE_PCT),),
        (hand("marginal", uncertainty=2.77128),),
        "U = 1.1547 x 2.4 = 2.7713; 50.77",
        subject=LIMIT_50,
    ),
    case(
        "below the limit by more than U",
        (at("47", accuracy=FIVE_PCT),),
        (hand("within", uncertainty=2.71355),),
        "U = 1.1547 x 2.35 = 2.7135; 49.71",
        subject=LIMIT_50,
    ),
    case(
        "above the limit by less than U",
        (at("53", accuracy=FIVE_PCT),),
        (hand("marginal", uncertainty=3.05996),),
        "U = 1.1547 x 2.65 = 3.0600; 49.94",
        subject=LIMIT_50,
    ),
    case(
        "above the limit by more than U",
        (at("54", accuracy=FIVE_PCT),),
        (hand("outside", uncertainty=3.11769),),
        "U = 1.1547 x 2.7 = 3.1177; 50.88",
        subject=LIMIT_50,
    ),
    case(
        "over range within U of the limit",
        (at(">52", accuracy=FIVE_PCT),),
        (
            hand(
                "unjudged",
                "At least 52.00 µΩ − U 3.002 µΩ is all that is known: it may lie on "
                "either side of the maximum 50.00 µΩ.",
                uncertainty=None,
            ),
        ),
        "U = 3.0022; 52 - 3.0022 = 49.0",
        subject=LIMIT_50,
    ),
    case(
        "over range beyond U of the limit",
        (at(">54", accuracy=FIVE_PCT),),
        (
            hand(
                "outside",
                "At least 54.00 µΩ − U 3.118 µΩ is above the maximum 50.00 µΩ.",
            ),
        ),
        "U = 3.1177; 54 - 3.1177 = 50.9",
        subject=LIMIT_50,
    ),
    case(
        "under range within U of the limit",
        (at("<49", accuracy=FIVE_PCT),),
        (
            hand(
                "unjudged",
                "At most 49.00 µΩ + U 2.829 µΩ is all that is known: it may lie on "
                "either side of the maximum 50.00 µΩ.",
            ),
        ),
        "U = 1.1547 x 2.45 = 2.8290; 49 + 2.829 = 51.8",
        subject=LIMIT_50,
    ),
    case(
        "under range beyond U of the limit",
        (at("<47", accuracy=FIVE_PCT),),
        (
            hand(
                "within",
                "At most 47.00 µΩ + U 2.714 µΩ is at or below the maximum 50.00 µΩ.",
            ),
        ),
        "U = 2.7135; 49.71",
        subject=LIMIT_50,
    ),
    case(
        "over range beyond 1.5 times the lowest by less than U",
        (at(">60.1", accuracy=FIVE_PCT), at("40", accuracy=FIVE_PCT)),
        (hand("unjudged", limit_high=60), hand("within")),
        "1.5025 - 1.5025 x 0.08165 = 1.3798",
    ),
    case(
        "over range beyond 1.5 times the lowest by more than U",
        (at(">70", accuracy=FIVE_PCT), at("40", accuracy=FIVE_PCT)),
        (
            hand(
                "outside",
                "At least 70.00 µΩ / the lowest 40.00 µΩ = at least 1.750, U 0.14: "
                "more than 1.5 times the lowest of its group.",
            ),
            hand("within"),
        ),
        "1.75 - 1.75 x 0.08165 = 1.607",
    ),
    case(
        "over range, the other within U of 1.5 times it",
        (at(">31", accuracy=FIVE_PCT), at("45", accuracy=FIVE_PCT)),
        (hand("unjudged"), hand("unjudged")),
        "45 / 31 = 1.4516; + 1.4516 x 0.08165 = 1.5701",
    ),
    case(
        "over range, the other not within U of 1.5 times it",
        (at(">40", accuracy=FIVE_PCT), at("45", accuracy=FIVE_PCT)),
        (
            hand("unjudged"),
            hand(
                "within",
                "45.00 µΩ / the lowest (at least 40.00 µΩ) = at most 1.125, U 0.092: "
                "at most 1.5 times the lowest of its group.",
            ),
        ),
        "45 / 40 = 1.125; + 1.125 x 0.08165 = 1.2169",
    ),
    case(
        "under range, the other within U of 1.5 times it",
        (at("<10", accuracy=FIVE_PCT), at("16", accuracy=FIVE_PCT)),
        (hand("unjudged"), hand("unjudged")),
        "16 / 10 = 1.6; - 1.6 x 0.08165 = 1.4694",
    ),
    case(
        "under range, the other beyond U of 1.5 times it",
        (at("<10", accuracy=FIVE_PCT), at("45", accuracy=FIVE_PCT)),
        (
            hand("unjudged"),
            hand(
                "outside",
                "45.00 µΩ / the lowest (at most 10.00 µΩ) = at least 4.500, U 0.37: "
                "more than 1.5 times the lowest of its group.",
            ),
        ),
        "4.5 - 4.5 x 0.08165 = 4.133",
    ),
    case(
        "a bound without an accuracy: compared simply",
        (at(">40"), at("60", accuracy=FIVE_PCT)),
        (hand("unjudged"), hand("within")),
        "60 = 1.5 x 40, U of the lowest not known",
    ),
    case(
        "two over range, the less certain one may be the lowest",
        (
            at(">40", accuracy=FIVE_PCT),
            at(">41", accuracy={"pct": 40.0, "fixed": 0.0, "unit": None}),
            at("45", accuracy=FIVE_PCT),
        ),
        (hand("unjudged"), hand("unjudged"), hand("unjudged")),
        "U relative 0.05774 and 0.46188: 0.46547; 45 / 40 x 1.46547 = 1.6487",
    ),
    case(
        "nothing at the lowest, over range beyond it",
        (at("0", accuracy=FIVE_PCT), at(">1", accuracy=FIVE_PCT)),
        (hand("unjudged"), hand("unjudged", limit_high=None)),
        "nothing is no reading, and the other is alone",
    ),
)

UNITS = (
    case(
        "a fixed part in milliohm, read in microohm",
        (at("48", accuracy={"pct": 0.0, "fixed": 0.002, "unit": "mOhm"}),),
        (hand("marginal", uncertainty=2.3094),),
        "U = 1.1547 x 2; 48 + 2.3 = 50.3",
        subject=LIMIT_50,
    ),
    case(
        "a fixed part in microohm, read in milliohm",
        (at("0.0476", "mΩ", accuracy={"pct": 0.0, "fixed": 2.0, "unit": "uOhm"}),),
        (hand("within", corrected=47.6, uncertainty=2.3094),),
        "U = 1.1547 x 2; 47.6 + 2.31 = 49.9",
        subject=LIMIT_50,
    ),
    case(
        "a fixed part in the unit of the value, milliohm",
        (at("0.0476", "mΩ", accuracy={"pct": 0.0, "fixed": 0.002, "unit": None}),),
        (hand("within", uncertainty=2.3094),),
        "U = 1.1547 x 2",
        subject=LIMIT_50,
    ),
    case(
        "percent and a fixed part in microohm, read in milliohm, corrected",
        (
            at(
                "0.050",
                "mOhm",
                30.0,
                accuracy={"pct": 1.0, "fixed": 0.5, "unit": "uOhm"},
            ),
        ),
        (hand("marginal", corrected=48.1096, uncertainty=1.11104),),
        "254.5 / 264.5 = 0.962193: 48.1096; U = 1.1547 x (0.5 + 0.5) x 0.962193 = "
        "1.1110; 49.22",
        subject=Subject(conductor="copper", limit=49.0, limit_unit="uOhm"),
    ),
)

WORDS = (
    case("a tie is shown even", (at("100.25"), at("100.75"), at("100.125"))),
    case("a tie between group and limit", (at("33.3125"), at("49.96875"))),
    case(
        "marks that nobody sees, about the number",
        (at("\ufeff\u200b40\u200d"), at("\u00a0>\u200b 70 \u2060"), at("> 70")),
    ),
)

CASES = (*GROUP, *LIMIT, *TEMPERATURE, *GATES, *RANGE, *UNCERTAINTY, *UNITS, *WORDS)
