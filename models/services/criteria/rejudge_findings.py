"""What judging again would touch: every reading judged by the rules of today."""

import hashlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import isnan
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.analysis.stored_readings import StoredReading, judge_stored
from models.judging import Rule
from models.judging.batch import VERDICT_CODES
from models.judging.near import near
from models.schema import Apparatus, Person, Round
from models.services.criteria.given_in_force import given_by_lineup
from models.services.criteria.rejudge_scope import Scope, editions_said, scope_of
from models.services.criteria.rules_in_force import RulesInForce
from models.services.criteria.stored_rows import (
    CardRow,
    PointRow,
    cards_of,
    points_of,
    readings_of,
)
from models.services.keeping.rules import rule_digest

PARTS = 5000  # ids in one statement


@dataclass(frozen=True, slots=True)
class CardRule:
    """A rule in force today: as it is stored, its digest, and as the core reads it."""

    data: dict[str, Any]
    digest: str
    rule: Rule


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
    rules = _rules_of_today(session, scope.rounds, cards.values())
    found = Findings(scope, editions_said(session, scope.sites), cards)
    found.readings, touched = readings_of(
        session, scope.rounds, lambda card, digest: digest != rules[card].digest
    )
    found.touched = _judged(touched, rules)
    still_open = [r for r in scope.rounds if r.state == "open"]
    found.points = [
        (point, rules[point.card_id])
        for point in points_of(session, still_open)
        if point.rule_digest != rules[point.card_id].digest
    ]
    return found


def _rules_of_today(
    session: Session, rounds: Sequence[Round], cards: Iterable[CardRow]
) -> dict[UUID, CardRule]:
    """Return the rule that each card would have if it were planned today."""
    by_id = {r.id: r for r in rounds}
    cards = list(cards)
    apparatus = _apparatus(session, {card.apparatus_id for card in cards})
    given = given_by_lineup(session, {r.lineup_id for r in rounds})
    sources: dict[tuple[UUID, UUID], RulesInForce] = {}
    first: dict[tuple[UUID, UUID], RulesInForce] = {}  # of each site and firm
    known: dict[str, CardRule] = {}
    seen: dict[int, CardRule] = {}
    found = {}
    for card in cards:
        round_ = by_id[card.round_id]
        firm = round_.opened_by.organisation_id
        key = (round_.lineup_id, firm)
        if key not in sources:
            place = (round_.lineup.site_id, firm)
            like, own = first.get(place), given[round_.lineup_id]
            made = RulesInForce(session, round_.lineup, firm, own, like)
            first.setdefault(place, made)
            sources[key] = made
        data = sources[key].rule(apparatus[card.apparatus_id], card.procedure)
        if id(data) not in seen:
            digest = rule_digest(data)
            if digest not in known:
                known[digest] = CardRule(data, digest, Rule.from_json(data))
            seen[id(data)] = known[digest]
        found[card.id] = seen[id(data)]
    return found


def _apparatus(session: Session, ids: Iterable[UUID]) -> dict[UUID, Apparatus]:
    wanted = list(ids)
    found: dict[UUID, Apparatus] = {}
    for at in range(0, len(wanted), PARTS):
        part = Apparatus.id.in_(wanted[at : at + PARTS])
        found |= {row.id: row for row in session.scalars(select(Apparatus).where(part))}
    return found


def _judged(
    rows: Sequence[StoredReading], rules: dict[UUID, CardRule]
) -> list[Touched]:
    by_rule: dict[str, list[int]] = {}
    for at, row in enumerate(rows):
        by_rule.setdefault(rules[row.card_id].digest, []).append(at)
    found: list[Touched | None] = [None] * len(rows)
    for places in by_rule.values():
        to = rules[rows[places[0]].card_id]
        judged = judge_stored(to.rule, [rows[at] for at in places])
        for at, verdict, low, high in zip(
            places,
            judged.verdict.tolist(),
            judged.limit_low.tolist(),
            judged.limit_high.tolist(),
            strict=True,
        ):
            said = str(VERDICT_CODES[verdict])
            found[at] = Touched(rows[at], to, said, _known(low), _known(high))
    return [one for one in found if one is not None]


def _known(number: float) -> float | None:
    return None if isnan(number) else number


def _same(a: float | None, b: float | None) -> bool:
    if a is None or b is None:
        return a is b
    return near(a, b)
