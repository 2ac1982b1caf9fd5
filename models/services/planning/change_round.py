"""Change who does the cards of an open round and when, and add cards to it."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import Fault, InputError, NotFoundError
from models.procedures.procedure import Procedure
from models.schema import Apparatus, Card, Person, Round
from models.services.criteria.rules_in_force import RulesInForce
from models.services.keeping.log import take_turn
from models.services.people.access import (
    lineup_apparatus,
    person_of,
    require,
    require_open,
    round_of,
)
from models.services.planning.add_cards import add_cards, add_changes, log_assigned
from models.services.planning.addable import Addable, read_added
from models.services.planning.change_plan import check_day
from models.services.planning.choices import added_card
from models.services.planning.crew import crew_of
from models.services.planning.round_plan import card_key


@dataclass(frozen=True, slots=True, kw_only=True)
class Choosable:
    """Whom cards can be given to, and what can be added to which apparatus."""

    crew: Sequence[tuple[UUID, str]]
    apparatus: Sequence[tuple[Apparatus, Sequence[Procedure]]]


class RoundChanges:
    """Changes of one open round by its lead; each goes to the log."""

    def __init__(
        self, session: Session, *, person_id: UUID, round_id: UUID, now: datetime
    ) -> None:
        """Take up the round; NotFoundError and ConflictError where it is not open."""
        take_turn(session)
        self.session, self.now = session, now
        self.person: Person = person_of(session, person_id)
        require(self.person, "plan")
        self.round: Round = round_of(session, self.person, round_id)
        require_open(self.round)

    def assign(self, card_ids: Iterable[UUID], to_id: UUID | None) -> None:
        """Give cards to a person of the crew, or to nobody in particular."""
        crew = {one.id for one in self._crew()}
        if to_id is not None and to_id not in crew:
            message = "Choose somebody of your firm who takes readings on this site."
            raise InputError(Fault(field="assigned_to", message=message))
        self._change(card_ids, lambda card: setattr(card, "assigned_to_id", to_id))

    def schedule(self, card_ids: Iterable[UUID], on: date | None) -> None:
        """Plan the day on which cards are done; None: no day."""
        check_day(on, self.now, self.round.lineup.site.zone)
        self._change(card_ids, lambda card: setattr(card, "planned_on", on))

    def add_card(
        self,
        *,
        apparatus_id: UUID,
        procedure: str,
        detail: str,
        labels: Sequence[str],
        reason: str,
        new_id: Callable[[], UUID],
    ) -> UUID:
        """Add a card with its reason, judged by the rule of today; return its id."""
        where = self._addable()
        said = read_added(
            where,
            apparatus_id=apparatus_id,
            procedure=procedure,
            detail=detail,
            labels=labels,
            reason=reason,
        )
        apparatus = {one.id: one for one in where.apparatus}[apparatus_id]
        planned = added_card(apparatus, said)
        firm = self.person.organisation_id
        rules = RulesInForce(self.session, self.round.lineup, firm)
        cards = add_cards(self.session, self.round, rules, [planned], new_id)
        made = {planned.key: cards[0]}
        add_changes(
            self.session, self.person, self.round, [planned], made, self.now, new_id
        )
        return cards[0].id

    def choosable(self) -> Choosable:
        """Return whom cards can be given to, and what can be added."""
        where = self._addable()
        return Choosable(
            crew=[(one.id, one.name) for one in self._crew()],
            apparatus=[(one, where.procedures(one)) for one in where.apparatus],
        )

    def _crew(self) -> Sequence[Person]:
        return crew_of(self.session, self.person, self.round.lineup)

    def _addable(self) -> Addable:
        return Addable(
            lineup=self.round.lineup,
            apparatus=lineup_apparatus(self.session, self.round.lineup_id),
            known={
                card_key(c.apparatus_id, c.procedure, c.detail)
                for c in self.round.cards
            },
        )

    def _change(
        self, card_ids: Iterable[UUID], change: Callable[[Card], object]
    ) -> None:
        known = {card.id: card for card in self.round.cards}
        wanted = list(dict.fromkeys(card_ids))
        if not wanted:
            raise InputError(Fault(field="cards", message="Choose at least one card."))
        for key in wanted:
            if key not in known:
                raise NotFoundError("card", key)
        cards = [known[key] for key in wanted]
        before = {card.id: (card.assigned_to_id, card.planned_on) for card in cards}
        for card in cards:
            change(card)
        self.session.flush()
        log_assigned(
            self.session, self.person, self.round, cards, self.now, before=before
        )
