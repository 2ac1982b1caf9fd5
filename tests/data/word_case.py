"""A golden case of a word: a rule as it stands, for a procedure that is made up here.

The words of rules are held to their meaning before a procedure uses them. *procedure*
says what may be typed: name, title, units, outcomes, and whether it is signed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from tests.data.golden_case import Hand

CITE = {
    "document": "Made up",
    "edition": "",
    "table": "",
    "row": "",
    "provenance": "practice",
    "note": "",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class WordProcedure:
    """What may be typed for a made-up procedure."""

    name: str
    title: str
    units: Sequence[str] = ()
    outcomes: Sequence[str] = ()
    signed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """A reading; *rule* holds what is another than in the case's rule."""

    text: str
    unit: str | None = None
    accuracy: Mapping[str, Any] | None = None
    conditions: Mapping[str, Any] = field(default_factory=dict)
    conditions_accuracy: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    rule: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class WordCase:
    """Readings of one group, and what was worked out without the program.

    *rule* has what differs from a rule that asks for nothing. *calibrated*: it is the
    rule of a recorded reading, with the gate for the instrument's calibration.
    """

    name: str
    procedure: WordProcedure
    rule: Mapping[str, Any]
    readings: tuple[Typed, ...]
    by_hand: tuple[Hand, ...]
    why: str
    calibrated: bool = False


def pct(percent: float, fixed: float = 0.0, unit: str | None = None) -> dict[str, Any]:
    """Return an instrument's accuracy."""
    return {"pct": percent, "fixed": fixed, "unit": unit}
