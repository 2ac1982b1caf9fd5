"""What judging again would touch: every reading judged by the rules of today."""

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from math import isnan
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.analysis.stored_readings import StoredReading, judge_stored
from models.judging.batch import VERDICT_CODES
from models.judging.near import near
from models.schema import Person
from models.services.criteria.rejudge_scope import Scope, editions_said, scope_of
from models.services.criteria.rules_of_today import CardRule, RulesOfToday
from models.services.criteria.stored_rows import (
    CardRow,
    PointRow,
    cards_of,
    points_of,
    readings_of,
)

PARTS = 5000  # ids in one statement


@dataclass(frozen=True, slots=True)
class Touched:
    """A reading whose rule would be another, and what it would be by that rule."""

    reading: StoredReading
    to: CardRule
    verdict: str
    limit_low: float | None
    limit_high: float | None

    @property
    def moves(self) -> bool:
        """Whether the verdict would be another."""
        return self.verdict != self.reading.verdict

    @property
    def limit_moves(self) -> bool:
        """Whether a limit would be another, the verdict the same."""
        was, now = self.reading, self
        return not self.moves and not (
            _same(was.limit_low, now.limit_low)
            and _same(was.limit_high, now.limit_high)
        )


@dataclass(slots=True)
class Findings:
    """All that judging again would touch, in the order of the rounds."""

    scope: Scope
    what: str
    cards: dict[UUID, CardRow]
    readings: int = 0
    touched: list[Touched] = field(default_factory=list)
    points: list[tuple[PointRow, CardRule]] = field(default_factory=list)

    @property
    def digest(self) -> str:
        """Return the SHA-256 over what would be stored: it binds a confirmation."""
        digest = hashlib.sha256()
        for one in self.touched:
            said = [str(one.reading.id), one.reading.seq, one.to.digest, one.verdict]
            digest.update(json.dumps(said).encode())
        for point, rule in self.points:
            digest.update(json.dumps([str(point.id), rule.digest]).encode())
        return digest.hexdigest()

    @property
    def rules(self) -> list[dict[str, Any]]:
        """Return the rules that would be named, each once."""
        named = [one.to for one in self.touched] + [rule for _, rule in self.points]
        return list({rule.digest: rule.data for rule in named}.values())

    @property
    def counts(self) -> dict[str, int]:
        """Return how many readings there are of each kind, and points."""
        moved = sum(one.moves for one in self.touched)
        limits = sum(one.limit_moves for one in self.touched)
        return {
            "readings": self.readings,
            "moved": moved,
            "limits": limits,
            "sources": len(self.touched) - moved - limits,
            "untouched": self.readings - len(self.touched),
            "points": len(self.points),
        }


def findings(session: Session, person: Person, kind: str, subject_id: UUID) -> Findings:
    """Judge all readings of a scope by the rules of today, in columns."""
    scope = scope_of(session, person, kind, subject_id)
    cards = {card.id: card for card in cards_of(session, scope.rounds)}
    rules = RulesOfToday(session, scope.rounds, cards.values())
    found = Findings(scope, editions_said(session, scope.sites), cards)
    found.readings, touched = readings_of(
        session, scope.rounds, lambda card, digest: digest not in rules.digests(card)
    )
    found.touched = _judged(touched, [rules.of(r.card_id, r.point_id) for r in touched])
    still_open = [r for r in scope.rounds if r.state == "open"]
    found.points = [
        (point, rules.of(point.card_id, point.id))
        for point in points_of(session, still_open)
        if point.rule_digest != rules.of(point.card_id, point.id).digest
    ]
    return found


def _judged(rows: Sequence[StoredReading], rules: Sequence[CardRule]) -> list[Touched]:
    """Judge each row by its own rule, beside all of its group.

    The rules of one card differ in their baselines alone: what is compared with the
    lowest of the group is the same by each.
    """
    groups: dict[tuple[UUID, str], list[int]] = {}
    by_rule: dict[str, list[int]] = {}
    for at, row in enumerate(rows):
        groups.setdefault((row.card_id, row.group), []).append(at)
        by_rule.setdefault(rules[at].digest, []).append(at)
    found: list[Touched | None] = [None] * len(rows)
    for places in by_rule.values():
        to = rules[places[0]]
        beside = sorted(
            {at for one in places for at in groups[rows[one].card_id, rows[one].group]}
            if to.rule.compares
            else places
        )
        judged = judge_stored(to.rule, [rows[at] for at in beside])
        for at, verdict, low, high in zip(
            beside,
            judged.verdict.tolist(),
            judged.limit_low.tolist(),
            judged.limit_high.tolist(),
            strict=True,
        ):
            if rules[at] is to:
                said = str(VERDICT_CODES[verdict])
                found[at] = Touched(rows[at], to, said, _known(low), _known(high))
    return [one for one in found if one is not None]


def _known(number: float) -> float | None:
    return None if isnan(number) else number


def _same(a: float | None, b: float | None) -> bool:
    if a is None or b is None:
        return a is b
    return near(a, b)
