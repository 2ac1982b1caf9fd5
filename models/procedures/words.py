"""The words of a declared procedure's file: each key, and what may stand in it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from models.procedures.withstand import HOLD_S, OVER_PCT

MUST = (
    "name",
    "title",
    "method",
    "on",
    "preconditions",
    "safety",
    "points",
    "trend",
)
HEAD = (
    *MUST,
    "unit",
    "signed",
    "by_eye",
    "asks",
    "rests_on",
    "columns",
    "outcomes",
    "series",
    "notes",
    "waveform",
    "questions",
    "example",
    "judged",
    "unjudged_without_bounds",
    "gives",
    "gate",
    "derive",
    "correction",
    "bound",
)
# What a key holds: a text, a list or a table. A text where a list is wanted would be
# read letter by letter.
SHAPES: Mapping[type, Sequence[str]] = {
    str: ("name", "title", "method", "waveform", "unjudged_without_bounds"),
    bool: ("signed", "by_eye"),
    list: (
        "asks",
        "rests_on",
        "columns",
        "preconditions",
        "outcomes",
        "series",
        "notes",
        "questions",
        "gives",
        "gate",
        "derive",
        "bound",
        "apparatus",
        "gears",
        "read",
    ),
    dict: (
        "on",
        "safety",
        "unit",
        "points",
        "trend",
        "example",
        "judged",
        "correction",
    ),
}
SHAPE_WORDS: Mapping[type, str] = {
    str: 'a text: write "..."',
    bool: "yes or no: write true or false",
    list: "a list: write [...]",
    dict: "a table: write { ... }",
}
ON = ("apparatus", "gears")
SAFETY = ("group", "by", "groups", "waits_for")
UNIT = ("read", "rule", "said")
POINTS = ("pattern", "by")
METAL = ("by", "plate", "otherwise")  # what the correction of a metal needs
FACTOR = ("by", "table", "reference_c")  # and that by a table of factors
ISOCHOR = ("by", "plate")  # and that of a gas pressure
ISOCHOR_OPTIONS = ("of", "thermometer")
FACTOR_OPTIONS = ("column", "column_by", "join", "label")
TREND = ("worse", "scale", "forecast")
GIVES = ("name", "title", "side", "units", "may_be_zero", "suggested")
SUGGESTED = ("table", "row", "column")
GATE = ("on", "unit", "reason", "when", "label")  # beside what a gate may test
PATTERNS: Mapping[str, Sequence[str]] = {
    "phases": ("phase A", "phase B", "phase C"),
    "poles": ("pole A", "pole B", "pole C"),
    "single": ("reading",),
    "listed": (),  # by the card of the programme, which has to list them
    "multiples": (),  # of the pickup, from the settings of the relay
    "restraints": (),  # of a differential, from its settings
    "voltages": (),  # multiples of a voltage that is set
}


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a bound: what it is called in a rule, and its unit.

    *unit* is empty where it is that of what is compared. Without a figure that is
    not *optional* there is no bound; one that is not written is the *default*.
    """

    name: str
    unit: str = ""
    optional: bool = False
    default: float | None = None


@dataclass(frozen=True, slots=True)
class BoundWords:
    """What may be said of a bound: its figures, and plain words.

    Of the figures *one_of* at least one has to be written, and one to be found.
    """

    figures: Mapping[str, Figure] = field(default_factory=dict)
    one_of: Sequence[str] = ()
    words: Sequence[str] = ()
    of: bool = False  # whether it may compare a derived value or a condition


VALUE = Figure("value")
BOUNDS: Mapping[str, BoundWords] = {
    # `up_to`: no further above it than so many times the minimum.
    "low": BoundWords(
        {"value": VALUE, "up_to": Figure("up_to", "times", optional=True)},
        words=("resolve",),
        of=True,
    ),
    "high": BoundWords({"value": VALUE}, words=("resolve",), of=True),
    "high_of_lowest": BoundWords(
        {"times": Figure("times", "times")}, words=("odd_share",)
    ),
    "over_lowest": BoundWords({"value": Figure("by")}),
    "near": BoundWords(
        {
            "value": Figure("expected"),
            "pct": Figure("pct", "%", optional=True),
            "fixed": Figure("fixed", optional=True),
        },
        one_of=("pct", "fixed"),
        words=("below", "above"),
        of=True,
    ),
    "near_angle": BoundWords(
        {"value": Figure("expected", "deg"), "within": Figure("within_deg", "deg")},
        of=True,
    ),
    "bands": BoundWords({"bands": Figure("bands")}, of=True),
    "of_baseline": BoundWords(
        {
            "low_times": Figure("low_times", "times", optional=True),
            "high_times": Figure("high_times", "times", optional=True),
        },
        one_of=("low_times", "high_times"),
    ),
    "withstand": BoundWords(
        {
            "value": Figure("level_kv", "kV"),
            "hold_s": Figure("hold_s", "s", default=HOLD_S),
            "over_pct": Figure("over_pct", "%", default=OVER_PCT),
            "rated": Figure("rated_kv", "kV", optional=True),
        }
    ),
    "expected": BoundWords(words=("met", "missed", "if_fitted", "word")),
}
# What may be said of every bound.
ANY_BOUND = ("kind", "when", "cite", "only")
# The value of what is expected, from a condition or a derived value.
EXPECTATION = ("on", "times", "plus", "points", "unit", "label")
