"""Readings files: a header row, one reading a row; what their columns may hold.

The columns are described in docs/readings-file.md.
"""

from collections.abc import Mapping
from functools import lru_cache

from models.errors import Fault, InputError
from models.judging import parse_number
from models.judging.choices import CONDUCTORS, GEARS, INSULATIONS, METHODS, SUPPLIES
from models.judging.timing_options import AGAINST, BANDS
from models.procedures import PROCEDURES

COLUMNS = (
    "id",
    "test",
    "gear",
    "rated_kv",
    "rated_withstand_kv",
    "group",
    "point",
    "value",
    "unit",
    "temperature_c",
    "air_temperature_c",
    "humidity_pct",
    "test_kv",
    "supply",
    "method",
    "duration_s",
    "test_current_a",
    "insulation",
    "conductor",
    "limit",
    "curve",
    "pickup_a",
    "applied_a",
    "time_dial",
    "tolerance_pct",
    "tolerance_s",
    "bands",
    "ceiling_multiple",
    "minimum_time_s",
    "pickup_error_pct",
    "current_error_pct",
    "timed_against",
    "measured_pickup_a",
    "altitude_m",
    "accuracy",
)
MOST_UNKNOWN = 50  # columns named one by one: who has more sends another file
REQUIRED = ("id", "test", "value")
POSITIVE = (
    "rated_kv",
    "rated_withstand_kv",
    "test_kv",
    "duration_s",
    "test_current_a",
    "limit",
    "pickup_a",
    "applied_a",
    "time_dial",
    "tolerance_pct",
    "tolerance_s",
    "ceiling_multiple",
    "minimum_time_s",
    "pickup_error_pct",
    "current_error_pct",
    "measured_pickup_a",
    "humidity_pct",
)
MAY_BE_ZERO = (
    "humidity_pct",
    "test_kv",
    "duration_s",
    "test_current_a",
    "applied_a",
    "tolerance_pct",
    "tolerance_s",
    "minimum_time_s",
    "pickup_error_pct",
    "current_error_pct",
    "limit",
)
NUMBERS = (*POSITIVE, "temperature_c", "air_temperature_c", "altitude_m")
CHOICES: Mapping[str, tuple[str, ...]] = {
    "test": tuple(PROCEDURES),
    "gear": GEARS,
    "supply": SUPPLIES,
    "method": METHODS,
    "insulation": INSULATIONS,
    "conductor": CONDUCTORS,
    "curve": (
        "ieee_moderately_inverse",
        "ieee_very_inverse",
        "ieee_extremely_inverse",
        "iec_standard_inverse",
        "iec_very_inverse",
        "iec_extremely_inverse",
        "iec_long_time_inverse",
        "definite_time",
    ),
    "bands": BANDS,
    "timed_against": AGAINST,
}
CONDITIONS = frozenset(
    {
        "temperature_c",
        "air_temperature_c",
        "humidity_pct",
        "test_kv",
        "duration_s",
        "test_current_a",
        "applied_a",
        "measured_pickup_a",
    }
)
WORDS = ("supply", "method")
# What a rule is compiled from, besides the unit of a limit: rows that have these in
# common share a rule.
SUBJECT_COLUMNS: Mapping[str, tuple[str, ...]] = {
    name: tuple(
        column
        for column in COLUMNS
        if column in (*one.rests_on, *one.columns, one.chosen_by)
    )
    for name, one in PROCEDURES.items()
}
MOST_FAULTS = 1000  # listed; a file with more is of another kind altogether


@lru_cache(maxsize=16384)
def number_in(name: str, text: str) -> float:
    """Return what the column *name* holds; InputError for what it may not hold."""
    value = parse_number(text)
    if value <= 0 and _refused(name, value):
        raise InputError(Fault(field=name, message=f"{text} must be above zero."))
    return value


def _refused(name: str, value: float) -> bool:
    """Whether *value* is below what the column may hold."""
    return name in POSITIVE and (value < 0 or name not in MAY_BE_ZERO)


def choice_in(name: str, text: str) -> str:
    """Return the word that the column *name* holds; InputError names those it may."""
    if text not in CHOICES[name]:
        known = ", ".join(CHOICES[name])
        raise InputError(Fault(field=name, message=f"'{text}' is none of {known}."))
    return text
