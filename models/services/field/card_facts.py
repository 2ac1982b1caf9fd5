"""Everything recorded on cards, read in bulk: what holds of it, and its state."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload, selectinload
from sqlalchemy.sql.base import ExecutableOption

from models import criteria
from models.procedures import PROCEDURES
from models.record.card import card_state
from models.record.values import Card as CardValue
from models.schema import (
    Agreement,
    Card,
    CardReturn,
    CardWithdrawal,
    Deficiency,
    Disposition,
    InspectionAnswer,
    InspectionNotice,
    InspectionPoint,
    Judgement,
    Note,
    Point,
    Reading,
    Rejudging,
    Signature,
)
from models.schema.confirmations import Confirmation
from models.services.field.card_values import card_value
from models.services.field.working_out import WorkingOut
from models.services.keeping.confirmations import confirmations_on
from models.services.safety.card_scopes import CardScopes, scopes_on
from models.services.safety.round_safety import RoundSafety


@dataclass(slots=True)
class CardFacts:
    """Everything recorded on one card, in the order in which it arrived."""

    card: Card
    confirmations: list[Confirmation] = field(default_factory=list)
    readings: list[Reading] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    deficiencies: list[Deficiency] = field(default_factory=list)
    dispositions: list[Disposition] = field(default_factory=list)
    returns: list[CardReturn] = field(default_factory=list)
    signatures: list[Signature] = field(default_factory=list)
    withdrawal: CardWithdrawal | None = None
    inspections: list[InspectionPoint] = field(default_factory=list)
    scopes: CardScopes | None = None  # None: it goes by the earlier list
    say: WorkingOut = field(init=False, repr=False)  # a judgement in words

    def __post_init__(self) -> None:
        """Nothing is worked out before somebody asks."""
        self.say = WorkingOut(self)

    @property
    def superseded(self) -> dict[UUID, UUID]:
        """Reading id -> the id of the reading that supersedes it."""
        return {r.supersedes_id: r.id for r in self.readings if r.supersedes_id}

    @property
    def current(self) -> list[Reading]:
        """The readings that hold."""
        superseded = self.superseded
        return [r for r in self.readings if r.id not in superseded]

    def successor_of(self, reading: Reading) -> Reading | None:
        """Return the reading that supersedes *reading*, or None."""
        return next((r for r in self.readings if r.supersedes_id == reading.id), None)

    @property
    def signed(self) -> list[Signature]:
        """The signatures that hold: made after the card was last returned."""
        last_return = max((r.at for r in self.returns), default=None)
        return [s for s in self.signatures if last_return is None or s.at > last_return]

    @property
    def value(self) -> CardValue:
        """The card as a value, which decisions are made on."""
        codes = self.listed
        before = [code for code in before_codes(self.card.procedure) if code in codes]
        after = [code for code in codes if code not in before]
        return card_value(self, before=before, after=after)

    @property
    def listed(self) -> list[str]:
        """Codes of the preconditions that are answered on the card itself."""
        if not self.card.round.earlier_list:
            return []
        return precondition_codes(self.card.procedure)

    @property
    def state(self) -> str:
        """The card's state: a word of `models.record.card`."""
        return card_state(self.value)

    @property
    def confirmed_codes(self) -> set[str]:
        """Codes of the preconditions that somebody has answered."""
        return {c.code for c in self.confirmations}

    def disposition_of(self, reading: Reading) -> Disposition | None:
        """Return the disposition that holds: on the present verdict, by its rule.

        The same word by another rule is another finding: outside a stricter limit
        nobody has let it pass yet. One that a second person refused does not hold.
        """
        held = reading.judgement
        judgements = {j.id: j for j in reading.judgements}
        for disposition in reversed(self.dispositions):
            if disposition.reading_id != reading.id:
                continue
            on = judgements[disposition.judgement_id]
            if on.verdict == held.verdict and on.judged_by == held.judged_by:
                return None if is_refused(disposition.agreement) else disposition
        return None


def precondition_codes(procedure: str) -> list[str]:
    """Return the codes that a card of *procedure* asks for, in order.

    The general list, the procedure's own, and what is to be done after the test.
    """
    known = criteria.load_preconditions()
    general = [p.code for p in known if p.part == "general"]
    after = [p.code for p in known if p.part == "after"]
    own = [c for c in PROCEDURES[procedure].preconditions if c not in general + after]
    return [*general, *own, *after]


def before_codes(procedure: str) -> list[str]:
    """Return the codes that must be answered before the card opens."""
    after = {p.code for p in criteria.load_preconditions() if p.part == "after"}
    return [c for c in precondition_codes(procedure) if c not in after]


def gather(
    session: Session,
    cards: Sequence[Card],
    seen: Mapping[UUID, RoundSafety] | None = None,
) -> dict[UUID, CardFacts]:
    """Return the facts of *cards* by card id, in a fixed number of queries.

    *seen*: by round, its safety, where it is loaded already.
    The order is the same every time, ties included: a digest is taken over it.
    """
    facts = {card.id: CardFacts(card) for card in cards}
    ids = list(facts)
    for confirmation in confirmations_on(session, ids):
        facts[confirmation.card_id].confirmations.append(confirmation)
    _gather_readings(
        session,
        facts,
        joinedload(Reading.by),
        joinedload(Reading.instrument),
        joinedload(Reading.calibration),
    )
    _gather_rest(session, facts, ids)
    for card_id, scopes in scopes_on(session, cards, seen or {}).items():
        facts[card_id].scopes = scopes
    return facts


def gather_readings(session: Session, cards: Sequence[Card]) -> dict[UUID, CardFacts]:
    """Return *cards* with their readings and judgements alone, by card id."""
    facts = {card.id: CardFacts(card) for card in cards}
    _gather_readings(session, facts)
    return facts


def _gather_readings(
    session: Session, facts: dict[UUID, CardFacts], *options: ExecutableOption
) -> None:
    for reading in session.scalars(
        select(Reading)
        .where(Reading.card_id.in_(facts))
        .options(
            joinedload(Reading.point),
            selectinload(Reading.stored_rule),
            selectinload(Reading.judgements)
            .joinedload(Judgement.rejudging)
            .joinedload(Rejudging.by),
            *options,
        )
    ):
        facts[reading.card_id].readings.append(reading)
    for one in facts.values():
        one.readings.sort(key=_when)


def _when(reading: Reading) -> tuple[datetime, datetime, int, bool, UUID]:
    """Return what orders readings: time, then the points', then old before new."""
    again = reading.supersedes_id is not None
    at = reading.point.position
    return (reading.taken_at, reading.arrived_at, at, again, reading.id)


def _gather_rest(
    session: Session, facts: dict[UUID, CardFacts], ids: list[UUID]
) -> None:
    for note in session.scalars(
        select(Note)
        .where(Note.card_id.in_(ids))
        .options(joinedload(Note.by))
        .order_by(Note.at, Note.id)
    ):
        facts[note.card_id].notes.append(note)
    for deficiency in session.scalars(
        select(Deficiency)
        .where(Deficiency.card_id.in_(ids))
        .options(joinedload(Deficiency.by), joinedload(Deficiency.closing))
        .order_by(Deficiency.number)
        .execution_options(populate_existing=True)  # a closing may be newer
    ):
        facts[deficiency.card_id].deficiencies.append(deficiency)
    for disposition in session.scalars(
        select(Disposition)
        .join(Reading)
        .where(Reading.card_id.in_(ids))
        .options(
            joinedload(Disposition.by),
            joinedload(Disposition.reading),
            joinedload(Disposition.agreement).joinedload(Agreement.by),
        )
        .order_by(Disposition.at, Disposition.id)
    ):
        facts[disposition.reading.card_id].dispositions.append(disposition)
    for returned in session.scalars(
        select(CardReturn)
        .where(CardReturn.card_id.in_(ids))
        .options(joinedload(CardReturn.by))
        .order_by(CardReturn.at, CardReturn.id)
    ):
        facts[returned.card_id].returns.append(returned)
    for signature in session.scalars(
        select(Signature)
        .where(Signature.card_id.in_(ids))
        .options(joinedload(Signature.by))
        .order_by(Signature.at, Signature.id)
    ):
        if signature.card_id is not None:
            facts[signature.card_id].signatures.append(signature)
    for withdrawal in session.scalars(
        select(CardWithdrawal)
        .where(CardWithdrawal.card_id.in_(ids))
        .options(
            joinedload(CardWithdrawal.by),
            joinedload(CardWithdrawal.agreement).joinedload(Agreement.by),
        )
    ):
        facts[withdrawal.card_id].withdrawal = withdrawal
    _gather_inspections(session, facts)


def _gather_inspections(session: Session, facts: dict[UUID, CardFacts]) -> None:
    for point in session.scalars(
        select(InspectionPoint)
        .where(InspectionPoint.card_id.in_(facts))
        .options(
            joinedload(InspectionPoint.by),
            joinedload(InspectionPoint.answer).joinedload(InspectionAnswer.by),
            selectinload(InspectionPoint.notices).joinedload(InspectionNotice.by),
        )
        .order_by(InspectionPoint.at, InspectionPoint.id)
        .execution_options(populate_existing=True)  # an answer may be newer
    ):
        facts[point.card_id].inspections.append(point)


def round_cards(session: Session, *round_ids: UUID) -> list[Card]:
    """Return the rounds' cards in order, with points and apparatus loaded."""
    return list(
        session.scalars(
            select(Card)
            .where(Card.round_id.in_(round_ids))
            .options(
                selectinload(Card.points).selectinload(Point.stored_rule),
                joinedload(Card.apparatus),
                joinedload(Card.cell),
                joinedload(Card.assigned_to),
            )
            .order_by(Card.position)
        )
    )


def is_refused(agreement: Agreement | None) -> bool:
    """Whether a second person refused a decision: it does not hold then."""
    return agreement is not None and agreement.answer == "refused"
