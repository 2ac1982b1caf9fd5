"""A reading on its way to a verdict: numbers, and the steps so far."""

from collections.abc import Mapping
from typing import Any

from models.judging.measured import Measured
from models.judging.parts import Part
from models.judging.rules import Rule
from models.judging.said import base_of, said_unit_of
from models.judging.steps import NO_NUMBERS, Step
from models.judging.values import Interval, Outcome
from models.judging.verdicts import SEVERITY, Judgement, Reading, Verdict

_step = tuple.__new__  # half the time of Step(...), and a relay has ten of them


class State:
    """What is known of a reading after the steps that were taken.

    A plain class with slots: one is made for every reading of a large file.
    """

    __slots__ = (
        "as_read",  # the reading in the rule's unit, before it is corrected
        "beyond_ranges",  # whether the accuracy's ranges do not reach the value
        "conditions",
        "derived",  # by name; None where a word cannot be worked out
        "exact",  # whether one number was read
        "factor",  # of the correction; None where it is not defined
        "interval",  # the number read; None for an outcome
        "limit_high",  # the tightest limits that were compared
        "limit_low",
        "measured",  # the reading in the rule's unit, corrected; None for an outcome
        "reading",
        "rule",
        "steps",
        "unit",  # of the number read
        "value",
        "verdict",  # the worst so far; None: nothing was found yet
    )

    def __init__(
        self,
        rule: Rule,
        reading: Reading,
        value: Interval | Outcome,
        unit: str | None,
    ) -> None:
        """Begin with what was typed; *unit* is that of the value."""
        self.rule = rule
        self.reading = reading
        self.conditions: Mapping[str, Any] = reading.conditions
        self.value = value
        self.unit = unit
        self.interval = value if isinstance(value, Interval) else None
        self.exact = self.interval is not None and value.low == value.high  # type: ignore[union-attr]
        self.measured: Measured | None = None
        self.as_read: Measured | None = None
        self.derived: dict[str, Measured | None] = {}
        self.factor: float | None = 1.0
        self.beyond_ranges = False
        self.verdict: Verdict | None = None
        self.limit_low: float | None = None
        self.limit_high: float | None = None
        self.steps: list[Step] = []

    @property
    def said_unit(self) -> str | None:
        """Return the unit in which values are said, where the rule has another."""
        return said_unit_of(self.rule.said, self.conditions)

    @property
    def base(self) -> str:
        """Return the rule's unit, with the one in which its values are said."""
        return base_of(self.rule.unit, self.rule.said, self.conditions)

    def find(
        self,
        verdict: Verdict | None,
        code: str,
        part: Part | None = None,
        *,
        low: float | None = None,
        high: float | None = None,
        numbers: Mapping[str, Any] = NO_NUMBERS,
    ) -> None:
        """Note a step; the worst verdict stays, and the tightest limits.

        Limits of a derived value or a condition are not those of the reading.
        """
        self.steps.append(_step(Step, (verdict, code, part, low, high, numbers)))
        if verdict is not None:
            worst = self.verdict
            if worst is None or SEVERITY[verdict] > SEVERITY[worst]:
                self.verdict = verdict
        if (low is not None or high is not None) and (part is None or "of" not in part):
            self._narrow(low, high)

    def unknown(self, code: str, part: Part | None = None, **numbers: Any) -> None:
        """Note that something is not known that a criterion needs."""
        self.find(Verdict.UNJUDGED, code, part, numbers=numbers or NO_NUMBERS)

    def _narrow(self, low: float | None, high: float | None) -> None:
        if low is not None and (self.limit_low is None or low > self.limit_low):
            self.limit_low = low
        if high is not None and (self.limit_high is None or high < self.limit_high):
            self.limit_high = high

    def judgement(
        self, reason: str, cite: list[dict[str, Any]], working: list[str]
    ) -> Judgement:
        """Return the judgement: verdict, numbers, and the words that are given."""
        interval, measured = self.interval, self.measured
        known = measured is not None and self.factor is not None
        assert self.verdict is not None
        return Judgement(
            verdict=self.verdict,
            value=interval.bound if interval else None,
            unit=self.unit,
            corrected=measured.shown if measured is not None and known else None,
            corrected_unit=self.rule.unit if interval else None,
            limit_low=self.limit_low,
            limit_high=self.limit_high,
            uncertainty=measured.expanded if measured and self.exact else None,
            reason=reason,
            cite=cite,
            working=working,
            said_unit=self.said_unit if interval else None,
        )
