"""Words of version 3: gates, outcomes, signed values, levels, calibration."""

from typing import Any

from tests.data.golden_case import hand
from tests.data.word_case import Typed, WordCase, WordProcedure, pct

FROST = WordProcedure(
    name="made_up_frost", title="Frost point", units=("degC", "degF"), signed=True
)
INTERLOCK = WordProcedure(
    name="made_up_interlock",
    title="Interlock",
    units=("s",),
    outcomes=(
        "as_expected",
        "not_as_expected",
        "not_fitted",
        "operated",
        "blocked",
        "broke_down",
    ),
)
WITHSTAND = WordProcedure(
    name="made_up_withstand", title="Withstand", outcomes=("held", "broke_down")
)
OHMS = WordProcedure(name="made_up_ohms", title="Ohms", units=("MOhm", "GOhm"))
BLOCKED: dict[str, Any] = {
    "bounds": [{"kind": "expected", "met": ["blocked"], "missed": ["operated"]}]
}
RATED: dict[str, Any] = {
    "bounds": [
        {
            "kind": "withstand",
            "level_kv": 27.0,
            "hold_s": 60.0,
            "over_pct": 5.0,
            "rated_kv": 36.0,
            "cite": 0,
        }
    ]
}
MINIMUM: dict[str, Any] = {
    "gates": [{"on": "test_kv", "at_least": 2.5, "unit": "kV"}],
    "bounds": [{"kind": "low", "value": 5000.0, "cite": 0}],
}
OUT = (
    "The instrument was not in calibration on the day: the reading is kept, and counts "
    "only once it is repeated with an instrument that is."
)


def held(text: str, test_kv: float, duration_s: float = 60.0) -> Typed:
    return Typed(text=text, conditions={"test_kv": test_kv, "duration_s": duration_s})


def tested(text: str, calibration: str, **conditions: Any) -> Typed:
    return Typed(
        text=text,
        unit="MOhm",
        accuracy=pct(5.0),
        conditions={"test_kv": 2.5, "calibration": calibration, **conditions},
    )


CASES = (
    WordCase(
        name="signed: a frost point of -32 degC against at most -20",
        procedure=FROST,
        rule={"bounds": [{"kind": "high", "value": -20.0, "cite": 0}]},
        readings=(
            Typed(text="-32", unit="degC", accuracy=pct(0.0, 2.0)),
            Typed(text="-25.6", unit="degF"),
            Typed(text="-21", unit="degC", accuracy=pct(0.0, 2.0)),
            Typed(text="-15", unit="degC"),
            Typed(text="<-40", unit="degC"),
            Typed(text=">-40", unit="degC"),
            Typed(text="0", unit="degF", accuracy=pct(0.0, 1.8)),
        ),
        by_hand=(
            hand("within", corrected=-32.0, uncertainty=2.3094, limit_high=-20.0),
            hand("within", corrected=-32.0),
            hand("marginal", uncertainty=2.3094),
            hand("outside"),
            hand("within", corrected=-40.0),
            hand("unjudged"),
            hand("outside", corrected=-17.7778, uncertainty=1.1547),
        ),
        why="U = 2 x 2 / sqrt(3) = 2.3094 K. (-25.6 - 32) x 5 / 9 = -32 degC. -21 + "
        "2.3 is above -20. 0 degF is -17.778 degC; 1.8 of a degree F are 1 K, U "
        "1.1547: -18.93 is above -20.",
    ),
    WordCase(
        name="signed: at least -10, with nothing waved through below zero",
        procedure=FROST,
        rule={"bounds": [{"kind": "low", "value": -10.0, "cite": 0}]},
        readings=(
            Typed(text="-9", unit="degC"),
            Typed(text="-11", unit="degC"),
            Typed(text="<-10.5", unit="degC"),
            Typed(text="<5", unit="degC"),
        ),
        by_hand=(
            hand("within", limit_low=-10.0),
            hand("outside"),
            hand("outside"),
            hand("unjudged"),
        ),
        why="-9 is above -10, -11 below. Less than 5 may be either.",
    ),
    WordCase(
        name="at most: a gate from above",
        procedure=OHMS,
        rule={
            "gates": [{"on": "applied_v", "at_most": 260.0, "unit": "V"}],
            "bounds": [{"kind": "low", "value": 10.0, "cite": 0}],
        },
        readings=(
            Typed(text="20", unit="MOhm", conditions={"applied_v": 260.0}),
            Typed(text="20", unit="MOhm", conditions={"applied_v": 261.0}),
            Typed(text="20", unit="MOhm"),
        ),
        by_hand=(hand("within"), hand("unjudged"), hand("unjudged")),
        why="260 V is at the limit of the gate, 261 V above it, unknown is never a "
        "pass.",
    ),
    WordCase(
        name="one of: a gate of words",
        procedure=OHMS,
        rule={
            "gates": [{"on": "method", "one_of": ["vlf", "dc"]}],
            "bounds": [{"kind": "low", "value": 10.0, "cite": 0}],
        },
        readings=(
            Typed(text="20", unit="MOhm", conditions={"method": "vlf"}),
            Typed(text="20", unit="MOhm", conditions={"method": "ac"}),
            Typed(text="20", unit="MOhm"),
        ),
        by_hand=(hand("within"), hand("unjudged"), hand("unjudged")),
        why="ac is neither of the two words, and without a word it is not known.",
    ),
    WordCase(
        name="expected: blocked, and what else may be observed",
        procedure=INTERLOCK,
        rule=BLOCKED,
        readings=(
            Typed(text="blocked"),
            Typed(text="operated"),
            Typed(text="0.4", unit="s"),
            Typed(text="as_expected"),
            Typed(text="not_fitted"),
            Typed(text="broke_down"),
        ),
        by_hand=(
            hand("within"),
            hand("outside"),
            hand("outside"),
            hand("unjudged"),
            hand("unjudged"),
            hand("outside"),
        ),
        why="A number counts as operated. Not fitted is unjudged where it is "
        "required. What broke down is outside, whatever was expected.",
    ),
    WordCase(
        name="expected: a check of what may not be there",
        procedure=INTERLOCK,
        rule={
            "bounds": [
                {
                    "kind": "expected",
                    "met": ["as_expected"],
                    "missed": ["not_as_expected"],
                    "if_fitted": True,
                }
            ]
        },
        readings=(
            Typed(text="as_expected"),
            Typed(text="not_as_expected"),
            Typed(text="not_fitted"),
        ),
        by_hand=(hand("within"), hand("outside"), hand("within")),
        why="The meaning of the words.",
    ),
    WordCase(
        name="withstand: up to the rated withstand and above it",
        procedure=WITHSTAND,
        rule=RATED,
        readings=(
            held("held", 27.0),
            held("held", 29.0),
            held("held", 36.0),
            held("held", 36.1),
            held("held", 90.0, 30.0),
            held("held", 20.0),
        ),
        by_hand=(
            hand("within", limit_low=27.0),
            hand("marginal"),
            hand("marginal"),
            hand("outside"),
            hand("outside"),
            hand("unjudged"),
        ),
        why="27 x 1.05 = 28.35 kV: 29 and 36 are stressed beyond the field level, "
        "above 36 kV beyond the rating, however short.",
    ),
    WordCase(
        name="calibration: in date, lapsed, none",
        procedure=OHMS,
        rule=MINIMUM,
        calibrated=True,
        readings=(
            tested("6000", "in_date"),
            tested("6000", "lapsed"),
            tested("5100", "none"),
            tested("4000", "lapsed"),
            tested("6000", "lapsed", test_kv=1.0),
        ),
        by_hand=(
            hand("within"),
            hand("unjudged", OUT, limit_low=5000.0),
            hand("unjudged", OUT),
            hand("outside"),
            hand(
                "unjudged",
                "The test voltage 1 kV is below the 2.5 kV that is wanted. " + OUT,
            ),
        ),
        why="Within and marginal count for nothing; outside stays outside: a bad "
        "number is not excused by a bad instrument. U of 5100 is 294: marginal. "
        "What was unjudged before keeps its reason too.",
    ),
    WordCase(
        name="gate on a number: a word is no number",
        procedure=OHMS,
        rule={
            **MINIMUM,
            "gates": [
                {"on": "test_kv", "at_least": 2.5, "at_most": 10.0, "unit": "kV"},
                {"on": "duration_s", "at_most": 90.0, "unit": "s"},
            ],
        },
        calibrated=True,
        readings=(
            tested("6000", "in_date", duration_s=60.0),
            tested("6000", "in_date", duration_s=60.0, test_kv="high"),
            tested("6000", "in_date", duration_s="short"),
            tested("6000", "in_date", duration_s="60"),
        ),
        by_hand=(
            hand("within"),
            hand("unjudged", "The test voltage is not known; 2.5 kV is wanted."),
            hand("unjudged"),
            hand("unjudged"),
        ),
        why="Unknown is never a pass, also where a text looks like a number.",
    ),
)
