"""A golden case: a rule's subject, readings of one group, and what a hand found."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from models.procedures import Subject

Hand = Mapping[str, Any]
NUMBERS = ("corrected", "limit_low", "limit_high", "uncertainty")
HAND_RELATIVE = 2e-4  # what is worked out by hand has four or five figures


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """One reading as it is typed; *subject* None: that of the case."""

    text: str
    unit: str | None = None
    accuracy: Mapping[str, Any] | None = None
    conditions: Mapping[str, Any] = field(default_factory=dict)
    subject: Subject | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Readings judged together, and the verdicts worked out without the program.

    *by_hand* has a mapping for each reading: the verdict, any of NUMBERS, and the
    reason where its words say what was compared.
    *why* is the arithmetic. A case without *by_hand* only holds the readers to one
    answer.
    """

    name: str
    procedure: str
    subject: Subject
    readings: tuple[Given, ...]
    by_hand: tuple[Hand, ...] = ()
    why: str = ""
    decision: str = "guarded"


def hand(verdict: str, reason: str | None = None, **numbers: float | None) -> Hand:
    """Return what was found by hand for one reading."""
    assert set(numbers) <= set(NUMBERS)
    words = {} if reason is None else {"reason": reason}
    return {"verdict": verdict, **words, **numbers}


def disagreements(found: Hand, judgement: Mapping[str, Any]) -> list[str]:
    """Return where a judgement is not what was found by hand."""
    return [
        f"{name}: by hand {wanted}, judged {judgement[name]}"
        for name, wanted in found.items()
        if not _agree(wanted, judgement[name])
    ]


def _agree(wanted: object, got: object) -> bool:
    if isinstance(wanted, int | float) and isinstance(got, int | float):
        return abs(wanted - got) <= HAND_RELATIVE * abs(wanted)
    return wanted == got
