"""A reading on its way to a verdict: numbers, findings and the working so far."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from models.judging.quantities import convert, said_unit
from models.judging.rules import Rule
from models.judging.values import Interval, Outcome, legible
from models.judging.verdicts import WORST_FIRST, Judgement, Reading, Verdict
from models.judging.wording import amount

Finding = tuple[Verdict, str]


@dataclass(slots=True)
class State:
    """Numbers are in the rule's unit; *high* is infinite for an over-range reading."""

    rule: Rule
    reading: Reading
    value: Interval | Outcome
    unit: str | None
    low: float = 0.0
    high: float = 0.0
    factor: float | None = 1.0
    expanded: float | None = None  # U, corrected; None without an accuracy
    limit_low: float | None = None
    limit_high: float | None = None
    findings: list[Finding] = field(default_factory=list)
    working: list[str] = field(default_factory=list)
    cited: list[int] = field(default_factory=list)

    @property
    def conditions(self) -> Mapping[str, Any]:
        """The reading's conditions."""
        return self.reading.conditions

    @property
    def numeric(self) -> bool:
        """Whether a number was read."""
        return isinstance(self.value, Interval)

    @property
    def exact(self) -> bool:
        """Whether the reading is one number, and not only a bound."""
        return isinstance(self.value, Interval) and self.value.exact

    @property
    def shown(self) -> float:
        """The corrected value, or the corrected bound that is known."""
        known_low = isinstance(self.value, Interval) and self.value.low is not None
        return self.low if known_low else self.high

    @property
    def stopped(self) -> bool:
        """Whether something was found that forbids comparing with bounds."""
        return bool(self.findings)

    def say(self, value: float) -> str:
        """Return a value in the rule's unit for people."""
        return amount(value, self.rule.unit or "")

    def bounded(self, words: str) -> str:
        """Return *words* for the value as the bound that it may be only."""
        if self.exact:
            return words
        return f"{'At least' if math.isinf(self.high) else 'At most'} {words}"

    def find(self, verdict: Verdict, sentence: str) -> None:
        """Add a finding, and its sentence to the working."""
        self.findings.append((verdict, sentence))
        self.working.append(sentence)

    def source(self, index: int | None) -> None:
        """Note that a citation of the rule took part."""
        if index is not None and index not in self.cited:
            self.cited.append(index)

    def narrow(self, *, low: float | None = None, high: float | None = None) -> None:
        """Keep the tightest limits for the record."""
        if low is not None:
            self.limit_low = low if self.limit_low is None else max(self.limit_low, low)
        if high is not None:
            self.limit_high = (
                high if self.limit_high is None else min(self.limit_high, high)
            )

    def judgement(self) -> Judgement:
        """Return the judgement: the worst finding wins."""
        found = {verdict for verdict, _ in self.findings}
        verdict = next(verdict for verdict in WORST_FIRST if verdict in found)
        reasons = dict.fromkeys(said for v, said in self.findings if v is verdict)
        rule = self.rule
        number = self.value.bound if isinstance(self.value, Interval) else None
        corrected = self.shown if self.numeric and self.factor is not None else None
        return Judgement(
            verdict=verdict,
            value=number,
            unit=self.unit,
            corrected=corrected,
            corrected_unit=rule.unit if self.numeric else None,
            limit_low=self.limit_low,
            limit_high=self.limit_high,
            uncertainty=self.expanded if self.exact else None,
            reason=" ".join(reasons),
            cite=[dict(rule.cite[index]) for index in self.cited],
            working=[*self.working, *[rule.cite_lines[index] for index in self.cited]],
        )


def in_rule_unit(value: Interval, unit: str, rule: Rule) -> tuple[float, float]:
    """Return the interval in the rule's unit; nothing measured here is negative."""
    assert rule.unit is not None
    low = 0.0 if value.low is None else convert(value.low, unit, rule.unit)
    high = float("inf") if value.high is None else convert(value.high, unit, rule.unit)
    return low, high


def typed(state: State) -> str:
    """Return the reading as it was typed, with its unit."""
    return f"{legible(state.reading.text)} {said_unit(state.unit)}".strip()
