"""What a given criterion does: to the rules of today, and in the rounds there are."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload, selectinload

from models.criteria.rule_words import limit_words
from models.judging import Rule
from models.procedures import GIVABLE
from models.schema import Apparatus, Card, GivenCriterion, Person, Round
from models.services.criteria.given_in_force import covers
from models.services.criteria.rules_in_force import RulesInForce
from models.services.people.access import lineup_apparatus, visible_rounds
from models.services.setup.programmes import planned_cards

NOTHING = "nothing to judge by"


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """What one apparatus is judged by without a version and with it.

    *decides* says whether the criterion is what decides then; *instead* names the
    source that goes before it where it does not.
    """

    apparatus: str
    before: str
    after: str
    decides: bool
    instead: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """The cards of a round that a criterion is given for.

    *versions* counts cards by the version that their rules carry, 0 for none;
    *behind* counts those of an open round that would carry another today.
    """

    round_id: UUID
    title: str
    state: str
    versions: Sequence[tuple[int, int]]
    behind: int


def effects(session: Session, draft: GivenCriterion) -> list[Effect]:
    """Return what *draft*, a version that is not stored yet, would do."""
    lineup = draft.lineup
    firm_id = draft.by.organisation_id
    before = RulesInForce(session, lineup, firm_id)
    given = [row for row in before.given if row.criterion_id != draft.criterion_id]
    after = RulesInForce(
        session, lineup, firm_id, given if draft.withdrawn else [*given, draft]
    )
    procedure = GIVABLE[draft.quantity].procedure
    return [
        _effect(
            one,
            draft,
            Rule.from_json(before.rule(one, procedure)),
            Rule.from_json(after.rule(one, procedure)),
        )
        for one in lineup_apparatus(session, lineup.id)
        if covers(draft, one)
        and any(card.procedure == procedure for card in planned_cards(one))
    ]


def _effect(
    apparatus: Apparatus, draft: GivenCriterion, before: Rule, after: Rule
) -> Effect:
    decides = version_in(after.cite, draft.criterion_id) is not None
    return Effect(
        apparatus=apparatus.label,
        before=_said(before),
        after=_said(after),
        decides=decides,
        instead="" if decides else _instead(after, draft),
    )


def _said(rule: Rule) -> str:
    return "; ".join(limit_words(bound, rule) for bound in rule.bounds) or NOTHING


def _instead(rule: Rule, draft: GivenCriterion) -> str:
    """Return the documents of the criteria given that go before *draft*."""
    known = [cite["document"] for cite in rule.cite if "criterion" in cite]
    return ", ".join(document for document in known if document != draft.document)


def version_in(cites: Iterable[Any], criterion_id: UUID) -> int | None:
    """Return the version of a criterion that citations carry; None: it is in none."""
    wanted = str(criterion_id)
    found = (cite["version"] for cite in cites if cite.get("criterion") == wanted)
    return next(found, None)


def uses(session: Session, person: Person, last: GivenCriterion) -> list[Use]:
    """Return the rounds of the lineup that *person* sees, the newest first."""
    rounds = session.scalars(
        visible_rounds(person)
        .where(Round.lineup_id == last.lineup_id)
        .order_by(Round.opened_at.desc())
    )
    today = RulesInForce(session, last.lineup, last.by.organisation_id)
    return [_use(session, round_, last, today) for round_ in rounds]


def _use(
    session: Session, round_: Round, last: GivenCriterion, today: RulesInForce
) -> Use:
    counts: Counter[int] = Counter()
    behind = 0
    for card in _cards(session, round_, last):
        used = version_in(card.points[0].rule["cite"], last.criterion_id)
        counts[used or 0] += 1
        if round_.state == "open":
            cites = today.rule(card.apparatus, card.procedure)["cite"]
            behind += version_in(cites, last.criterion_id) != used
    return Use(
        round_id=round_.id,
        title=round_.title,
        state=round_.state,
        versions=sorted(counts.items()),
        behind=behind,
    )


def _cards(session: Session, round_: Round, last: GivenCriterion) -> list[Card]:
    procedure = GIVABLE[last.quantity].procedure
    rows = session.scalars(
        select(Card)
        .where(Card.round_id == round_.id, Card.procedure == procedure)
        .options(joinedload(Card.apparatus), selectinload(Card.points))
    )
    return [card for card in rows if card.points and covers(last, card.apparatus)]
