"""The words of a declared procedure's file: each key, and what may stand in it."""

from collections.abc import Mapping, Sequence

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
    "asks",
    "rests_on",
    "columns",
    "outcomes",
    "series",
    "notes",
    "waveform",
    "example",
    "judged",
    "unjudged_without_bounds",
    "gives",
    "gate",
    "correction",
    "bound",
)
# What a key holds: a text, a list or a table. A text where a list is wanted would be
# read letter by letter.
SHAPES: Mapping[type, Sequence[str]] = {
    str: ("name", "title", "method", "waveform", "unjudged_without_bounds"),
    list: (
        "asks",
        "rests_on",
        "columns",
        "preconditions",
        "outcomes",
        "series",
        "notes",
        "gives",
        "gate",
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
    list: "a list: write [...]",
    dict: "a table: write { ... }",
}
ON = ("apparatus", "gears")
SAFETY = ("group", "by", "groups", "waits_for")
UNIT = ("read", "rule")
POINTS = ("pattern", "by")
CORRECTION = ("by", "plate", "otherwise")
TREND = ("worse", "scale", "forecast")
GIVES = ("name", "title", "side", "units", "may_be_zero")
GATE_TESTS = ("known", "at_least", "at_most", "one_of")
GATE = ("on", *GATE_TESTS, "unit", "reason", "when")
PATTERNS: Mapping[str, Sequence[str]] = {
    "phases": ("phase A", "phase B", "phase C"),
    "poles": ("pole A", "pole B", "pole C"),
    "single": ("reading",),
    "listed": (),  # by the card of the programme, which has to list them
    "multiples": (),  # of the pickup, from the settings of the relay
    "restraints": (),  # of a differential, from its settings
    "voltages": (),  # multiples of a voltage that is set
}
# A bound's figure as the file calls it, its unit where that is not the rule's, and
# what else may be said.
BOUNDS: Mapping[str, tuple[str, str, Sequence[str]]] = {
    "low": ("value", "", ()),
    "high": ("value", "", ()),
    "high_of_lowest": ("times", "times", ("odd_share",)),
    "over_lowest": ("value", "", ()),
    "near": ("value", "", ("pct", "fixed", "below", "above")),
    "expected": ("", "", ("met", "missed", "if_fitted")),
}
