"""What was read on a card, as drawings take it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from webapp.drawing.figures import number


@dataclass(frozen=True, slots=True, kw_only=True)
class OnCard:
    """A reading: its value as judged, the limits that it was judged by.

    *value* is None of an outcome; *exact* is False where it is only a bound.
    """

    label: str
    conditions: Mapping[str, Any]
    verdict: str
    value: float | None
    low: float | None
    high: float | None
    exact: bool


def on_card(label: str, reading: Mapping[str, Any]) -> OnCard:
    """Return a reading of a card record or of a package."""
    judgement = reading["judgement"]
    return OnCard(
        label=label,
        conditions=reading["conditions"],
        verdict=judgement["verdict"],
        value=number(judgement, "corrected"),
        low=number(judgement, "limit_low"),
        high=number(judgement, "limit_high"),
        exact=not reading["text"].strip().startswith((">", "<")),
    )
