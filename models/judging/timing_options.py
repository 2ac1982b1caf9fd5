"""Options of an operating time: what a relay's maker or a programme may add.

They came with version 2 of the rule; a bound without them is one of version 1.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from models.judging.curves import operating_time
from models.judging.near import finite
from models.judging.settings import LARGEST_MULTIPLE
from models.judging.wording import figure, plain

SETTING, MEASURED = "setting", "measured_pickup"  # what decides the verdict
AGAINST = (SETTING, MEASURED)
BANDS = ("iec_60255_151",)  # names of tables of assigned error by multiple
LARGEST_ERROR_PCT = 50.0  # of pickup or current: more is a slip of the finger

NUMBERS: Mapping[str, str] = {
    "ceiling_multiple": "The ceiling",
    "minimum_time_s": "The minimum time",
    "pickup_error_pct": "The pickup error",
    "current_error_pct": "The current error",
}
OPTIONS = frozenset({*NUMBERS, "bands", "against"})

Bound = Mapping[str, Any]


def option_faults(bound: Bound) -> list[str]:
    """Return, sentence by sentence, which options cannot be."""
    faults = [*_number_faults(bound), *_word_faults(bound)]
    return faults or list(_contradictions(bound))


def _number_faults(bound: Bound) -> Iterator[str]:
    for name, what in NUMBERS.items():
        value = bound.get(name)
        if value is None:
            continue
        most = LARGEST_ERROR_PCT if name.endswith("_pct") else LARGEST_MULTIPLE
        if not finite(value):
            yield f"{what} is no number."
        elif value < 0:
            yield f"{what} is below zero."
        elif value >= most:
            yield f"{what} is out of all proportion."


def _word_faults(bound: Bound) -> Iterator[str]:
    if bound.get("against", SETTING) not in AGAINST:
        yield f"'{bound['against']}' is nothing to judge against."


def _contradictions(bound: Bound) -> Iterator[str]:
    start, ceiling = bound["start_multiple"], bound.get("ceiling_multiple")
    if ceiling is not None and ceiling < start:
        yield (
            f"The ceiling {plain(ceiling)} lies below {plain(start)} times pickup, "
            "where timing begins."
        )
    least = bound.get("minimum_time_s")
    if least and least > (longest := _longest(bound)):
        yield (
            f"The minimum time {plain(least)} s is longer than the longest of the "
            f"curve, {figure(longest)} s."
        )
    if bound.get("bands") is not None:
        yield from _against_bands(bound)


def _longest(bound: Bound) -> float:
    start: float = bound["start_multiple"]
    return operating_time(bound["curve"], bound["time_dial"], start)


def _against_bands(bound: Bound) -> Iterator[str]:
    if bound["curve"]["form"] == "definite":
        yield "A definite time has no assigned error by multiple."
    if bound.get("pickup_error_pct"):
        yield (
            "Assigned-error bands are wider near pickup for the pickup's own error "
            "already: declare one or the other."
        )
