"""A reading on its way to a verdict: numbers, findings and the working so far."""

import math
from collections.abc import Mapping
from typing import Any

from models.judging.quantities import said_unit
from models.judging.rules import Rule
from models.judging.values import Interval, Outcome, legible
from models.judging.verdicts import WORST_FIRST, Judgement, Reading, Verdict
from models.judging.wording import amount

Finding = tuple[Verdict, str]


class State:
    """Numbers are in the rule's unit; *high* is infinite for an over-range reading.

    A plain class with slots: one is made for every reading of a large file.
    """

    __slots__ = (
        "base",  # the unit of the numbers; blank where only outcomes are judged
        "cited",
        "conditions",
        "exact",  # whether the reading is one number, and not only a bound
        "expanded",  # U, corrected; None without an accuracy
        "factor",
        "findings",
        "guarded_high",
        "guarded_low",  # limit and its name, where U counted in a comparison
        "high",
        "interval",  # the number read; None for an outcome
        "limit_high",
        "limit_low",
        "low",
        "quiet",  # whether no words are wanted
        "reading",
        "rule",
        "shown",  # the corrected value, or the corrected bound that is known
        "unit",
        "value",
        "working",
    )

    def __init__(
        self,
        rule: Rule,
        reading: Reading,
        value: Interval | Outcome,
        unit: str | None,
        *,
        quiet: bool = False,
    ) -> None:
        """Begin with what was typed; *unit* is that of the value."""
        self.rule = rule
        self.quiet = quiet
        self.base = rule.unit or ""
        self.reading = reading
        self.conditions: Mapping[str, Any] = reading.conditions
        self.value = value
        self.unit = unit
        self.interval = value if isinstance(value, Interval) else None
        self.exact = self.interval is not None and self.interval.exact
        self.low = self.high = self.shown = 0.0
        self.factor: float | None = 1.0
        self.expanded: float | None = None
        self.limit_low: float | None = None
        self.limit_high: float | None = None
        self.guarded_low: tuple[float, str] | None = None
        self.guarded_high: tuple[float, str] | None = None
        self.findings: list[Finding] = []
        self.working: list[str] = []
        self.cited: list[int] = []

    def say(self, value: float) -> str:
        """Return a value in the rule's unit for people; nothing where none reads it."""
        return "" if self.quiet else amount(value, self.base)

    def say_u(self) -> str:
        """Return U for people, in the unit of the value that it belongs to."""
        if self.quiet:
            return ""
        return amount(self.expanded or 0.0, self.base, self.shown)

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
        """Note that a citation of the rule took part, where somebody reads it."""
        if self.quiet:
            return
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
        verdict, reason = self._worst()
        rule, interval = self.rule, self.interval
        cited = self.cited
        return Judgement(
            verdict=verdict,
            value=interval.bound if interval else None,
            unit=self.unit,
            corrected=self.shown if interval and self.factor is not None else None,
            corrected_unit=rule.unit if interval else None,
            limit_low=self.limit_low,
            limit_high=self.limit_high,
            uncertainty=self.expanded if self.exact else None,
            reason=reason,
            cite=[dict(rule.cite[index]) for index in cited],
            working=[]
            if self.quiet
            else self.working + [rule.cite_lines[index] for index in cited],
        )

    def _worst(self) -> Finding:
        if self.quiet:
            return self._worst_verdict(), ""
        if len(self.findings) == 1:
            return self.findings[0]
        verdict = self._worst_verdict()
        reasons = [said for each, said in self.findings if each is verdict]
        return verdict, " ".join(dict.fromkeys(reasons))

    def _worst_verdict(self) -> Verdict:
        first, _ = self.findings[0]
        if len(self.findings) == 1:
            return first
        found = [verdict for verdict, _ in self.findings]
        return next(filter(found.__contains__, WORST_FIRST))


def typed(state: State) -> str:
    """Return the reading as it was typed, with its unit."""
    return f"{legible(state.reading.text)} {said_unit(state.unit)}".strip()
