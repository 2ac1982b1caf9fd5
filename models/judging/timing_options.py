"""Options of an operating time: what a relay's maker or a programme may add.

They came with version 2 of the rule; a bound without them is one of version 1.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from models.judging.curves import operating_time
from models.judging.near import finite
from models.judging.settings import LARGEST_MULTIPLE
from models.judging.wording import figure, plain
from models.words import say

SETTING, MEASURED = "setting", "measured_pickup"  # what decides the verdict
AGAINST = (SETTING, MEASURED)
BANDS = ("iec_60255_151",)  # names of tables of assigned error by multiple
LARGEST_ERROR_PCT = 50.0  # of pickup or current: more is a slip of the finger

NUMBERS = (
    "ceiling_multiple",
    "minimum_time_s",
    "pickup_error_pct",
    "current_error_pct",
)
OPTIONS = frozenset({*NUMBERS, "bands", "against"})

Bound = Mapping[str, Any]


def option_faults(bound: Bound) -> list[str]:
    """Return, sentence by sentence, which options cannot be."""
    faults = [*_number_faults(bound), *_word_faults(bound)]
    return faults or list(_contradictions(bound))


def _number_faults(bound: Bound) -> Iterator[str]:
    for name in NUMBERS:
        value = bound.get(name)
        if value is None:
            continue
        most = LARGEST_ERROR_PCT if name.endswith("_pct") else LARGEST_MULTIPLE
        option = say(f"option.{name}")
        if not finite(value):
            yield say("option.no_number", option=option)
        elif value < 0:
            yield say("option.negative", option=option)
        elif value >= most:
            yield say("option.too_large", option=option)


def _word_faults(bound: Bound) -> Iterator[str]:
    if bound.get("against", SETTING) not in AGAINST:
        yield say("option.against", against=str(bound["against"]))


def _contradictions(bound: Bound) -> Iterator[str]:
    start, ceiling = bound["start_multiple"], bound.get("ceiling_multiple")
    if ceiling is not None and ceiling < start:
        yield say("option.low_ceiling", ceiling=plain(ceiling), start=plain(start))
    least = bound.get("minimum_time_s")
    if least and least > (longest := _longest(bound)):
        yield say("option.long_minimum", least=plain(least), longest=figure(longest))
    if bound.get("bands") is not None:
        yield from _against_bands(bound)


def _longest(bound: Bound) -> float:
    start: float = bound["start_multiple"]
    return operating_time(bound["curve"], bound["time_dial"], start)


def _against_bands(bound: Bound) -> Iterator[str]:
    if bound["curve"]["form"] == "definite":
        yield say("option.definite_bands")
    if bound.get("pickup_error_pct"):
        yield say("option.double_pickup")
