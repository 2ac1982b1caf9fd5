"""Golden cases: insulation resistance.

By hand: the minimum of the class (Table 100.1) against the reading times the factor
of Table 100.14.1; U = 1.1547 x half-width (2 / sqrt 3).
"""

from typing import Any

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

KV15 = Subject(gear="metal_clad", rated_kv=15.0)
OIL15 = Subject(gear="metal_clad", rated_kv=15.0, insulation="oil")
FIVE_PCT = {"pct": 5.0, "fixed": 0.0, "unit": None}


def at(
    text: str,
    unit: str = "GOhm",
    temperature_c: float | None = 20.0,
    test_kv: float | None = 2.5,
    accuracy: dict[str, Any] | None = None,
    **more: float,
) -> Given:
    conditions = {"temperature_c": temperature_c, "test_kv": test_kv, **more}
    known = {name: value for name, value in conditions.items() if value is not None}
    return Given(text=text, unit=unit, accuracy=accuracy, conditions=known)


def case(
    name: str,
    given: Given,
    found: Hand | None = None,
    why: str = "",
    subject: Subject = KV15,
    decision: str = "guarded",
) -> Case:
    return Case(
        name=f"insulation: {name}",
        procedure="insulation_resistance",
        subject=subject,
        readings=(given,),
        by_hand=() if found is None else (found,),
        why=why,
        decision=decision,
    )


GOHM_RANGES = {
    "ranges": [
        {"low": 0.0, "high": 10.0, "unit": "GOhm", "pct": 5.0, "fixed": 0.02},
        {
            "low": 10.0,
            "high": 100.0,
            "unit": "GOhm",
            "pct": 10.0,
            "pct_range": 2.0,
            "digits": 3.0,
            "resolution": 0.1,
        },
    ]
}
UPPER_ALONE = {"ranges": GOHM_RANGES["ranges"][1:]}


def rated(rated_kv: float) -> Subject:
    return Subject(gear="metal_clad", rated_kv=rated_kv)


# The half-width of each range: percent of reading, percent of its upper end, digits
# times the resolution, and the fixed part.
RANGES = (
    case(
        "accuracy of the lower range",
        at("5.40", accuracy=GOHM_RANGES),
        hand("within", corrected=5400, uncertainty=334.86),
        "5 % of 5.40 + 0.02 = 0.29 GOhm; U = 0.33486 GOhm; 5.40 - 0.335 = 5.065 GOhm",
    ),
    case(
        "a value on the boundary takes the lower range",
        at("10", accuracy=GOHM_RANGES),
        hand("within", uncertainty=600.44),
        "5 % of 10 + 0.02 = 0.52 GOhm; U = 0.60044 GOhm; the upper range has 3.3 GOhm",
    ),
    case(
        "accuracy of the upper range",
        at("20", accuracy=GOHM_RANGES),
        hand("within", uncertainty=4965.2),
        "10 % of 20 + 2 % of 100 + 3 x 0.1 = 4.3 GOhm; U = 4.9652 GOhm",
    ),
    case(
        "the range is found in another unit",
        at("12000", "MOhm", accuracy=GOHM_RANGES),
        hand("within", corrected=12000, uncertainty=4041.5),
        "10 % of 12 + 2 + 0.3 = 3.5 GOhm; U = 4.04145 GOhm",
    ),
    case(
        "corrected, with the accuracy of the range as read",
        at("12", temperature_c=10.0, accuracy=GOHM_RANGES),
        why="12 GOhm takes the upper range, whatever it is at 20 degC",
    ),
    case(
        "beyond every range the verdict is withheld",
        at("120", accuracy=GOHM_RANGES),
        hand("unjudged", corrected=120000, limit_low=5000, uncertainty=None),
        "no accuracy is stated at 120 GOhm",
    ),
    case(
        "below every range the verdict is withheld",
        at("5.40", accuracy=UPPER_ALONE),
        hand("unjudged", corrected=5400, uncertainty=None),
        "no accuracy is stated at 5.40 GOhm",
    ),
    case(
        "what is outside stays outside where no accuracy is stated",
        at("4.00", accuracy=UPPER_ALONE),
        hand("outside", corrected=4000, uncertainty=None),
    ),
    case(
        "over range at the end of the last range",
        at(">100", accuracy=GOHM_RANGES),
        hand("within", corrected=100000, uncertainty=None),
        "at least 100 GOhm less U of 14.2 GOhm",
    ),
    case(
        "over range beyond the last range",
        at(">120", accuracy=GOHM_RANGES),
        hand("unjudged"),
    ),
    case(
        "ranges play no part in simple acceptance",
        at("120", accuracy=GOHM_RANGES),
        hand("within", uncertainty=None),
        decision="simple",
    ),
)
LIMIT = (
    case(
        "at the minimum exactly",
        at("5.00"),
        hand("within", corrected=5000, limit_low=5000, limit_high=None),
        "15 kV class: 5 000 MOhm; 20 degC: factor 1",
    ),
    case("one digit below the minimum", at("4.99"), hand("outside", corrected=4990)),
    case("one digit above the minimum", at("5.01"), hand("within", corrected=5010)),
    case("the minimum in MOhm", at("5000", "MOhm"), hand("within", corrected=5000)),
    case("the minimum in kOhm", at("5000000", "kΩ"), hand("within", corrected=5000)),
    case("the minimum in TOhm", at("0.005", "TΩ"), hand("within", corrected=5000)),
    case("far above, said in TOhm", at("2.5", "TOhm")),
    case("far below, said with an exponent", at("0.001", "kOhm")),
    case("a short circuit", at("0"), hand("outside", corrected=0)),
    case("no ratings, no minimum", at("50"), hand("unjudged"), subject=Subject()),
)

TEMPERATURE = (
    case(
        "solid at 30 degC, above",
        at("3.20", temperature_c=30.0),
        hand("within", corrected=5056),
        "3.20 x 1.58 = 5.056",
    ),
    case(
        "solid at 30 degC, below",
        at("3.16", temperature_c=30.0),
        hand("outside", corrected=4992.8),
        "3.16 x 1.58 = 4.9928",
    ),
    case(
        "good as read, not when corrected down",
        at("7.93", temperature_c=10.0),
        hand("outside", corrected=4995.9),
        "7.93 x 0.63 = 4.9959",
    ),
    case(
        "corrected down and still good",
        at("7.94", temperature_c=10.0),
        hand("within", corrected=5002.2),
        "7.94 x 0.63 = 5.0022",
    ),
    case(
        "between rows, a fifth of the way",
        at("2.10", temperature_c=31.0),
        hand("outside", corrected=3478.2),
        "ln 1.58 = 0.457425, ln 2.0 = 0.693147; + 0.2 x 0.235722 = 0.504569; "
        "exp = 1.65627; x 2.10 = 3.4782",
    ),
    case(
        "between rows, half way, above",
        at("4.48", temperature_c=22.5),
        hand("within", corrected=5008.8),
        "sqrt(1 x 1.25) = 1.118034; x 4.48 = 5.0088",
    ),
    case(
        "between rows, half way, below",
        at("4.47", temperature_c=22.5),
        hand("outside", corrected=4997.6),
        "1.118034 x 4.47 = 4.9976",
    ),
    case(
        "oil at 30 degC, above",
        at("2.53", temperature_c=30.0),
        hand("within", corrected=5009.4),
        "2.53 x 1.98 = 5.0094",
        subject=OIL15,
    ),
    case(
        "oil at 30 degC, below",
        at("2.52", temperature_c=30.0),
        hand("outside", corrected=4989.6),
        "2.52 x 1.98 = 4.9896",
        subject=OIL15,
    ),
    case(
        "oil between rows",
        at("2.13", temperature_c=32.5),
        hand("within", corrected=5015.2),
        "sqrt(1.98 x 2.8) = 2.35457; x 2.13 = 5.01523",
        subject=OIL15,
    ),
    case(
        "first row of the table",
        at("20.0", temperature_c=-10.0),
        hand("within", corrected=5000),
        "20.0 x 0.25 = 5.000",
    ),
    case(
        "last row of the table",
        at("80", "MOhm", temperature_c=110.0),
        hand("within", limit_low=5000, corrected=5056),
        "80 x 63.2 = 5 056",
    ),
    case(
        "colder than the table",
        at("50", temperature_c=-10.1),
        hand("unjudged", corrected=None),
    ),
    case(
        "hotter than the table",
        at("50", temperature_c=110.1),
        hand("unjudged", corrected=None),
    ),
    case(
        "no temperature",
        at("50", temperature_c=None),
        hand("unjudged", corrected=None),
    ),
    case("neither temperature nor voltage", at("50", temperature_c=None, test_kv=None)),
    case("hotter than the table and too low", at("50", "GΩ", 120.0, 1.0)),
    case("humidity is only kept", at("8.4", humidity_pct=55.0)),
)

VOLTAGE = (
    case("test voltage at the table's", at("6.0", test_kv=2.5), hand("within")),
    case("test voltage below", at("6.0", test_kv=2.49), hand("unjudged")),
    case("below, and the reading too", at("1.0", test_kv=1.0), hand("unjudged")),
    case("test voltage equal but for rounding", at("6.0", test_kv=2.4999999999)),
    case("test voltage above", at("6.0", test_kv=5.0), hand("within")),
    case("test voltage not known", at("6.0", test_kv=None), hand("unjudged")),
)

CLASS = tuple(
    case(
        f"{rated_kv:g} kV: {why}",
        at(text, test_kv=test_kv),
        hand(verdict, limit_low=minimum),
        f"{rated_kv:g} kV: {why}",
        subject=rated(rated_kv),
    )
    for rated_kv, text, test_kv, verdict, minimum, why in (
        (4.76, "1.50", 2.5, "within", 1500, "class 5 kV, 1 500 MOhm"),
        (4.76, "1.49", 2.5, "outside", 1500, "class 5 kV, below"),
        (8.25, "2.50", 2.5, "within", 2500, "class 8 kV, 2 500 MOhm"),
        (8.25, "2.49", 2.5, "outside", 2500, "class 8 kV, below"),
        (15.5, "5.00", 2.5, "within", 5000, "class 15 kV, 5 000 MOhm"),
        (25.8, "9.99", 5.0, "outside", 10000, "class 25 kV, below"),
        (27.0, "10.0", 5.0, "within", 10000, "class 25 kV, 10 000 MOhm"),
        (27.0, "10.0", 2.5, "unjudged", None, "class 25 kV asks for 5 kV"),
        (38.0, "100", 5.0, "within", 100000, "class 34.5 kV, 100 000 MOhm"),
        (38.0, "99.9", 5.0, "outside", 100000, "class 34.5 kV, below"),
        (7.2, "2.50", 2.5, "within", 2500, "7.2 / 1.1 = 6.5, class 8 kV"),
        (12.0, "5.00", 2.5, "within", 5000, "12 / 1.1 = 10.9, class 15 kV"),
        (16.5, "5.00", 2.5, "within", 5000, "16.5 / 1.1 = 15, class 15 kV"),
        (17.5, "5.00", 5.0, "outside", 10000, "17.5 / 1.1 = 15.9, class 25 kV"),
        (24.0, "10.0", 5.0, "within", 10000, "24 / 1.1 = 21.8, class 25 kV"),
        (40.5, "99.9", 5.0, "outside", 100000, "40.5 / 1.1 = 36.8, class 46 kV"),
        (72.5, "100", 5.0, "within", 100000, "beyond the last row: 46 kV and above"),
    )
)

MAKER = (
    case(
        "maker's limit before the table's",
        at("2.00"),
        hand("within", limit_low=2000),
        subject=Subject(rated_kv=15.0, limit=2000.0),
    ),
    case(
        "below the maker's limit",
        at("1.99"),
        hand("outside", limit_low=2000),
        subject=Subject(rated_kv=15.0, limit=2.0, limit_unit="GOhm"),
    ),
    case(
        "a maker's limit and no rating: no test voltage is asked for",
        at("2.00", test_kv=None),
        hand("within", limit_low=2000),
        subject=Subject(limit=2.0, limit_unit="GOhm"),
    ),
)

RANGE = (
    case(
        "over range from the minimum on",
        at(">5.00"),
        hand("within", corrected=5000, uncertainty=None),
        "at least 5 000 MOhm, and 5 000 are wanted",
    ),
    case("over range below the minimum", at(">4.99"), hand("unjudged")),
    case("over range of a small instrument", at(">200", "MOhm"), hand("unjudged")),
    case(
        "over range and hot",
        at("> 4", temperature_c=30.0),
        hand("within", corrected=6320),
        "4 x 1.58 = 6.32",
    ),
    case("under range at the minimum", at("<5.00"), hand("unjudged")),
    case("under range below the minimum", at("<4.99"), hand("outside")),
    case("under range far below", at("<0.01", "MOhm"), hand("outside")),
    case(
        "over range, beyond U",
        at(">5.4", accuracy=FIVE_PCT),
        hand(
            "within",
            "At least 5.400 GΩ − U 0.3118 GΩ is at or above the minimum 5.000 GΩ.",
            uncertainty=None,
        ),
        "U = 1.1547 x 0.27 = 0.3118; 5.4 - 0.3118 = 5.088",
    ),
    case(
        "over range, not beyond U",
        at(">5.2", accuracy=FIVE_PCT),
        hand("unjudged"),
        "U = 1.1547 x 0.26 = 0.3002; 5.2 - 0.3002 = 4.900",
    ),
    case(
        "over range, far from U",
        at(">4", accuracy=FIVE_PCT),
        hand(
            "unjudged",
            "At least 4.000 GΩ − U 0.2309 GΩ is all that is known: it may lie on "
            "either side of the minimum 5.000 GΩ.",
        ),
        "U = 1.1547 x 0.2 = 0.23094; what is not known goes upwards",
    ),
    case(
        "under range, beyond U",
        at("<4.7", accuracy=FIVE_PCT),
        hand(
            "outside",
            "At most 4.700 GΩ + U 0.2714 GΩ is below the minimum 5.000 GΩ.",
        ),
        "U = 1.1547 x 0.235 = 0.2714; 4.7 + 0.2714 = 4.971",
    ),
    case(
        "under range, not beyond U",
        at("<4.8", accuracy=FIVE_PCT),
        hand(
            "unjudged",
            "At most 4.800 GΩ + U 0.2771 GΩ is all that is known: it may lie on "
            "either side of the minimum 5.000 GΩ.",
        ),
        "U = 1.1547 x 0.24 = 0.2771; 4.8 + 0.2771 = 5.077",
    ),
)

UNCERTAINTY = (
    case(
        "above by less than U",
        at("5.30", accuracy=FIVE_PCT),
        hand("marginal", uncertainty=305.996),
        "U = 1.1547 x 0.265 = 0.305996; 5.30 - 0.306 = 4.994",
    ),
    case(
        "above by more than U",
        at("5.31", accuracy=FIVE_PCT),
        hand("within", uncertainty=306.573),
        "U = 1.1547 x 0.2655 = 0.306573; 5.31 - 0.3066 = 5.0034",
    ),
    case(
        "below by less than U",
        at("4.73", accuracy=FIVE_PCT),
        hand("marginal", uncertainty=273.087),
        "U = 1.1547 x 0.2365 = 0.273087; 4.73 + 0.2731 = 5.0031",
    ),
    case(
        "below by more than U",
        at("4.72", accuracy=FIVE_PCT),
        hand("outside", uncertainty=272.509),
        "U = 1.1547 x 0.236 = 0.272509; 4.72 + 0.2725 = 4.9925",
    ),
    case(
        "percent of reading and a fixed part",
        at("5.32", accuracy={"pct": 5.0, "fixed": 0.02, "unit": "GOhm"}),
        hand("marginal", uncertainty=330.245),
        "half-width 0.266 + 0.02 = 0.286; U = 0.330245; 5.32 - 0.3302 = 4.9898",
    ),
    case(
        "a fixed part in another unit, marginal",
        at("5.11", accuracy={"pct": 0.0, "fixed": 100.0, "unit": "MOhm"}),
        hand("marginal", uncertainty=115.470),
        "U = 115.47 MOhm; 5 110 - 115.47 = 4 994.5",
    ),
    case(
        "a fixed part in another unit, within",
        at("5.12", accuracy={"pct": 0.0, "fixed": 100.0, "unit": "MOhm"}),
        hand("within", uncertainty=115.470),
        "5 120 - 115.47 = 5 004.5",
    ),
    case(
        "a fixed part in GOhm, read in MOhm, marginal",
        at("5110", "MOhm", accuracy={"pct": 0.0, "fixed": 0.1, "unit": "GOhm"}),
        hand("marginal", uncertainty=115.470),
        "5 110 - 115.47 = 4 994.5",
    ),
    case(
        "a fixed part in MOhm, read in TOhm and corrected",
        at("0.0033", "TOhm", 30.0, accuracy={"pct": 0.0, "fixed": 100, "unit": "MOhm"}),
        hand("within", corrected=5214, uncertainty=182.443),
        "3 300 x 1.58 = 5 214; U = 115.47 x 1.58 = 182.443; 5 031.6",
    ),
    case(
        "nothing is below a minimum of nothing",
        at("0.01", accuracy={"pct": 0.0, "fixed": 0.02, "unit": "GOhm"}),
        hand("within", "No reading can be below the minimum 0 MΩ.", limit_low=0),
        "U = 23 MOhm, more than the 10 MOhm read; no resistance is negative",
        subject=Subject(rated_kv=15.0, limit=0.0, limit_unit="MOhm"),
    ),
    case(
        "U is corrected too, within",
        at("3.40", temperature_c=30.0, accuracy=FIVE_PCT),
        hand("within", corrected=5372, uncertainty=310.153),
        "3.40 x 1.58 = 5.372; U = 1.1547 x 0.2686 = 0.310153; 5.0618",
    ),
    case(
        "U is corrected too, marginal",
        at("3.30", temperature_c=30.0, accuracy=FIVE_PCT),
        hand("marginal", corrected=5214, uncertainty=301.031),
        "3.30 x 1.58 = 5.214; U = 1.1547 x 0.2607 = 0.301031; 4.9130",
    ),
    case("an accuracy of nothing", at("5.00", accuracy=FIVE_PCT | {"pct": 0.0})),
    case(
        "an accuracy and a reading outside the table",
        at("9.0", temperature_c=130.0, accuracy=FIVE_PCT),
        hand("unjudged", corrected=None),
    ),
    case(
        "a simple decision takes no account of U",
        at("5.01", accuracy=FIVE_PCT),
        hand("within", uncertainty=None),
        decision="simple",
    ),
)

WORDS = (
    case("a tie is shown even, downwards", at("1.0625")),
    case("a tie is shown even, upwards", at("1.1875")),
    case("an exponent", at("5e3", "Mohm"), hand("within", corrected=5000)),
    case("a sign, a point and blanks", at(" +5. "), hand("within", corrected=5000)),
    case("no-break spaces and a bound", at("\u00a0> 5.0\u00a0", "G Ω")),
    case("a byte order mark and marks without width", at("\ufeff>\u200b5\u2060")),
    case("many digits", at("5.123456789012345"), hand("within", corrected=5123.46)),
)

CASES = (
    *LIMIT,
    *RANGES,
    *TEMPERATURE,
    *VOLTAGE,
    *CLASS,
    *MAKER,
    *RANGE,
    *UNCERTAINTY,
    *WORDS,
)
