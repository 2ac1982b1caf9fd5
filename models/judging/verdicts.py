"""Verdicts, readings and judgements."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, NamedTuple

from models.judging.accuracy import Accuracy, RangedAccuracy


class Verdict(StrEnum):
    """What a reading is, against its criterion."""

    WITHIN = "within"
    MARGINAL = "marginal"
    OUTSIDE = "outside"
    UNJUDGED = "unjudged"


# The first of these that occurs among the findings is the verdict.
WORST_FIRST = (Verdict.OUTSIDE, Verdict.MARGINAL, Verdict.UNJUDGED, Verdict.WITHIN)
SEVERITY = {verdict: rank for rank, verdict in enumerate(reversed(WORST_FIRST))}


def verdict_of(*, sure: bool, perhaps: bool, exact: bool) -> Verdict:
    """Return the verdict on a criterion that is met for sure, or perhaps.

    *exact*: one number is compared, of which a lead may decide; of what is only a
    bound nobody can.
    """
    if sure:
        return Verdict.WITHIN
    if not perhaps:
        return Verdict.OUTSIDE
    return Verdict.MARGINAL if exact else Verdict.UNJUDGED


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What an instrument showed, as typed, with its conditions.

    *unit* None: the text is an outcome. *conditions_accuracy* has what is known of the
    accuracy of a condition that is a number, in the condition's own unit.
    """

    key: str
    text: str
    unit: str | None = None
    accuracy: Accuracy | RangedAccuracy | None = None
    conditions: Mapping[str, Any] = field(default_factory=dict)
    conditions_accuracy: Mapping[str, Accuracy] = field(default_factory=dict)


class Judgement(NamedTuple):
    """The verdict, the numbers behind it and the working.

    `value` is in `unit`, the rest in `corrected_unit`. For an over-range or
    under-range reading `value` and `corrected` are the bound that is known.
    """

    verdict: Verdict
    value: float | None
    unit: str | None
    corrected: float | None
    corrected_unit: str | None
    limit_low: float | None
    limit_high: float | None
    uncertainty: float | None
    reason: str
    cite: list[dict[str, Any]]
    working: list[str]
    said_unit: str | None = None  # in which the numbers are said, where it is another

    def as_json(self) -> dict[str, Any]:
        """Return the judgement as plain values, keys as `witnessmark judge` prints."""
        said = {} if self.said_unit is None else {"said_unit": self.said_unit}
        return {
            "verdict": self.verdict.value,
            "value": self.value,
            "unit": self.unit,
            "corrected": self.corrected,
            "corrected_unit": self.corrected_unit,
            **said,
            "limit_low": self.limit_low,
            "limit_high": self.limit_high,
            "uncertainty": self.uncertainty,
            "reason": self.reason,
            "cite": self.cite,
            "working": self.working,
        }
