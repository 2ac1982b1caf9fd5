"""The parts of a rule as typed shapes; what they mean is in docs/judging.md, section 6.

A rule is stored as JSON, and its parts stay what was stored: mappings. `part_faults`
checks them once, when a rule is read.
"""

from collections.abc import Mapping
from typing import Any, Literal, NotRequired, TypedDict

Part = Mapping[str, Any]


class Gate(TypedDict):
    """A condition or derived value without which nothing is judged."""

    on: str
    label: NotRequired[str]  # what it is called in a sentence, without an article
    when: NotRequired[Mapping[str, Any]]
    known: NotRequired[bool]
    at_least: NotRequired[float]
    at_most: NotRequired[float]
    one_of: NotRequired[list[str]]
    unit: NotRequired[str]
    reason: NotRequired[str]
    reasons: NotRequired[Mapping[str, str]]  # of `one_of`, by the value that was given
    last: NotRequired[bool]  # looked at when the bounds have been compared


class Operand(TypedDict):
    """A condition or a derived value, and the unit in which it is said."""

    on: str
    label: NotRequired[str]
    unit: NotRequired[str]


class Derived(TypedDict):
    """A value that is worked out of the reading, a condition or one before it."""

    name: str
    op: Literal[
        "over",
        "plus",
        "minus",
        "error_pct",
        "series_at",
        "series_where",
        "series_between",
        "series_spread",
        "knee",
        "rate",
        "vapour",
        "angle",
        "magnitude",
    ]
    of: NotRequired[str]
    of_unit: NotRequired[str]  # in which a condition is said
    by: NotRequired[float | Operand]
    expected: NotRequired[float | Operand]
    wrap: NotRequired[float]  # of a difference: the whole turn
    unit: NotRequired[str]
    label: NotRequired[str]
    signed: NotRequired[bool]
    after: NotRequired[bool]
    when: NotRequired[Mapping[str, Any]]


class Expectation(TypedDict):
    """What is expected, from a condition or a derived value."""

    on: str
    label: NotRequired[str]
    times: NotRequired[float]
    plus: NotRequired[float]
    points: NotRequired[list[list[float]]]
    unit: NotRequired[str]
