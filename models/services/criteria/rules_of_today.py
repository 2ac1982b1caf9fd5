"""The rules that the points of many rounds would have if they were planned today."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models.judging import Rule
from models.procedures import PROCEDURES
from models.procedures.baseline import Baseline
from models.schema import Apparatus, Card, Round
from models.services.criteria.given_in_force import given_by_lineup
from models.services.criteria.rules_in_force import RulesInForce
from models.services.criteria.stored_rows import CardRow
from models.services.keeping.rules import rule_digest
from models.services.owner.baseline import Place, baselines, place_of

PARTS = 5000  # ids in one statement


@dataclass(frozen=True, slots=True)
class CardRule:
    """A rule in force today: as it is stored, its digest, and as the core reads it."""

    data: dict[str, Any]
    digest: str
    rule: Rule


class RulesOfToday:
    """The rule of each card, and of those of its points that have a baseline."""

    def __init__(
        self, session: Session, rounds: Sequence[Round], cards: Iterable[CardRow]
    ) -> None:
        """Compile them; criteria are read once for each site and firm."""
        self._session = session
        self._rounds = {r.id: r for r in rounds}
        self._given = given_by_lineup(session, {r.lineup_id for r in rounds})
        self._sources: dict[tuple[UUID, UUID], RulesInForce] = {}
        self._first: dict[tuple[UUID, UUID], RulesInForce] = {}  # of a site and firm
        self._known: dict[str, CardRule] = {}
        self._seen: dict[int, CardRule] = {}
        self._cards: dict[UUID, CardRule] = {}
        self._points: dict[UUID, dict[UUID, CardRule]] = {}  # by card and point
        self._compile(list(cards))

    def of(self, card: UUID, point: UUID) -> CardRule:
        """Return the rule of a point."""
        return self._points.get(card, {}).get(point) or self._cards[card]

    def digests(self, card: UUID) -> Collection[str]:
        """Return the digests of the rules that a card's points have."""
        own = self._points.get(card)
        if own is None:
            return (self._cards[card].digest,)
        return {rule.digest for rule in own.values()}

    def _compile(self, cards: Sequence[CardRow]) -> None:
        apparatus = _apparatus(self._session, {card.apparatus_id for card in cards})
        for card in cards:
            one = apparatus[card.apparatus_id]
            source = self._source(self._rounds[card.round_id])
            self._cards[card.id] = self._rule(source.rule(one, card.procedure))
        at: dict[UUID, Mapping[Place, Baseline]] = {}
        for row in self._against_baseline(cards):
            round_ = self._rounds[row.round_id]
            if round_.id not in at:
                at[round_.id] = baselines(self._session, round_, PROCEDURES)
            source = self._source(round_)
            self._points[row.id] = {
                point.id: self._rule(
                    source.rule(
                        apparatus[row.apparatus_id],
                        row.procedure,
                        at[round_.id].get(place_of(row, point)),
                    )
                )
                for point in row.points
            }

    def _against_baseline(self, cards: Iterable[CardRow]) -> Iterator[Card]:
        """Yield the cards of maintenance rounds whose rules may hold a baseline."""
        wanted = [
            card.id
            for card in cards
            if PROCEDURES[card.procedure].against_baseline
            and self._rounds[card.round_id].kind == "maintenance"
        ]
        for at in range(0, len(wanted), PARTS):
            part = Card.id.in_(wanted[at : at + PARTS])
            yield from self._session.scalars(
                select(Card).where(part).options(selectinload(Card.points))
            )

    def _source(self, round_: Round) -> RulesInForce:
        firm = round_.opened_by.organisation_id
        key = (round_.lineup_id, firm)
        if key not in self._sources:
            place = (round_.lineup.site_id, firm)
            like, own = self._first.get(place), self._given[round_.lineup_id]
            made = RulesInForce(self._session, round_.lineup, firm, own, like)
            self._first.setdefault(place, made)
            self._sources[key] = made
        return self._sources[key]

    def _rule(self, data: dict[str, Any]) -> CardRule:
        if id(data) not in self._seen:
            digest = rule_digest(data)
            if digest not in self._known:
                self._known[digest] = CardRule(data, digest, Rule.from_json(data))
            self._seen[id(data)] = self._known[digest]
        return self._seen[id(data)]


def _apparatus(session: Session, ids: Iterable[UUID]) -> dict[UUID, Apparatus]:
    wanted = list(ids)
    found: dict[UUID, Apparatus] = {}
    for at in range(0, len(wanted), PARTS):
        part = Apparatus.id.in_(wanted[at : at + PARTS])
        found |= {row.id: row for row in session.scalars(select(Apparatus).where(part))}
    return found
