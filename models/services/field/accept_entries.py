"""Take in what a tablet sends: each entry stands alone, sending twice does no harm."""

import hashlib
import logging
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.exc import InterfaceError, OperationalError
from sqlalchemy.orm import Session

from models.errors import (
    ConflictError,
    ForbiddenError,
    InputError,
    NotFoundError,
)
from models.schema import Card, Person, Receipt
from models.schema.confirmations import Confirmation
from models.services.field.card_facts import CardFacts, gather
from models.services.field.card_view import card_json, named_rules
from models.services.field.entry import Entry
from models.services.field.entry_kinds import KINDS, says_the_same
from models.services.field.entry_marks import without_marks
from models.services.field.hold_points import require_released
from models.services.field.require_open_card import require_open_card
from models.services.keeping.confirmations import keep_together, together_digest
from models.services.keeping.log import (
    append_log,
    check_clock,
    take_turn,
    texted,
)
from models.services.owner.baseline import add_baseline, baseline_values
from models.services.people.access import (
    card_of,
    person_of,
    require,
    require_open,
    round_of,
)
from models.services.safety.arriving import Arriving
from models.services.safety.keep_acts import Keeper
from models.services.safety.round_safety import RoundSafety
from models.signing import chain

LOG = logging.getLogger(__name__)
NOT_TAKEN = (
    "The server failed on this entry and stored nothing of it; the others stand. "
    "Note it on paper, and tell whoever runs the server: its log says why."
)
# The database is away, locked or full: what is tried again later may well succeed.
DATABASE_AWAY = (OperationalError, InterfaceError)


def accept_entries(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    device: str,
    entries: Sequence[Mapping[str, Any]],
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> list[dict[str, Any]]:
    """Store *entries* one by one and say what became of each.

    The answer for each is stored, known (seen before with the same content),
    conflict (seen before with other content, or the card's state forbids it) or
    refused with the faults by field, and carries the card as it now stands. An
    entry on which the program itself fails is refused alone; the log has why.
    Raises NotFoundError, ForbiddenError and ClockBehindError for the whole call only.
    """
    take_turn(session)
    check_clock(session, now)
    person = person_of(session, person_id)
    require(person, "record")
    round_ = round_of(session, person, round_id)
    arriving = Arriving(session, round_, device=device)
    batch = _Batch(session, person, person, arriving, device, now, new_id)
    answers = batch.accept_all(entries)
    shown: dict[UUID, dict[str, Any] | None] = {}
    for answer in answers:
        card_id = answer.pop("card_id")
        if card_id is not None and card_id not in shown:
            shown[card_id] = _card_shown(session, person, card_id, arriving.seen())
        answer["card"] = shown.get(card_id)
    return answers


def accept_brought(
    session: Session,
    *,
    author: Person,
    bringer: Person,
    round_id: UUID,
    device: str,
    entries: Sequence[Mapping[str, Any]],
    said: Mapping[str, Any],
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> list[dict[str, Any]]:
    """Store entries of *author* that *bringer* brought; answers without the cards.

    The round is to be the bringer's to see; whether the author may still sign in does
    not matter. *said*: what the log says of each beside it.
    """
    take_turn(session)
    check_clock(session, now)
    round_ = round_of(session, bringer, round_id)
    arriving = Arriving(session, round_, device=device)
    batch = _Batch(session, author, bringer, arriving, device, now, new_id, said)
    answers = batch.accept_all(entries)
    for answer in answers:
        answer.pop("card_id")
    return answers


def _card_shown(
    session: Session, person: Person, card_id: UUID, seen: Mapping[UUID, RoundSafety]
) -> dict[str, Any] | None:
    """Return the card's JSON; None where the program fails on what is stored.

    The entries are stored by then: an answer without the card is better than none,
    after which the tablet would send them for ever.
    """
    card = card_of(session, person, card_id)
    try:
        return card_as_it_stands(session, card, seen)
    except DATABASE_AWAY:
        raise
    except Exception:
        LOG.exception("card %s cannot be shown", card_id)
        return None


SAFETY = "safety"  # an entry that is an act of safety: models.services.safety
FOLLOWED_IN_FACTS = (
    "confirm",
    "reading",
)  # kinds that add what they store to the facts


class _Batch:
    """The entries of one call; a card's facts are read once where they allow it."""

    def __init__(
        self,
        session: Session,
        person: Person,
        sees: Person,
        arriving: Arriving,
        device: str,
        now: datetime,
        new_id: Callable[[], UUID],
        said: Mapping[str, Any] | None = None,
    ) -> None:
        """*sees*: whose access finds cards; *said*: what the log says besides."""
        self.session, self.person, self.arriving = session, person, arriving
        self.sees, self.said, self.offset_ms = sees, dict(said or {}), 0
        self.device, self.now, self.new_id = device, now, new_id
        site = arriving.round.lineup.site
        self.acts = Keeper(
            session, site, person, device=device, now=now, judge=arriving
        )
        self.acts.said = self.logged()
        self.facts: dict[UUID, CardFacts] = {}
        self.confirmed: list[Confirmation] = []  # not stored yet

    def accept_all(self, entries: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
        """Store entries one by one, in their order."""
        answers = [self.accept(entry) for entry in entries]
        self.store_confirmed()
        self.acts.store()
        return answers

    def accept(self, raw: Mapping[str, Any]) -> dict[str, Any]:
        """Store one entry, or say why not; nothing of a refused one remains."""
        key = raw.get("key")
        shown = key if isinstance(key, str) else None  # NaN would make it no JSON
        answer: dict[str, Any] = {"key": shown, "faults": [], "card_id": None}
        try:
            own, offset_ms = without_marks(raw)
        except InputError as error:
            return answer | _refusal(error)
        self._by_a_clock_off_by(offset_ms)
        if own.get("kind") == SAFETY:
            return answer | self._take_act(own)
        return answer | self._take(own)

    def _by_a_clock_off_by(self, offset_ms: int) -> None:
        """Log by itself what came before: what is logged as one says one offset."""
        if offset_ms == self.offset_ms:
            return
        self.store_confirmed()
        self.acts.store()
        self.offset_ms = offset_ms
        self.acts.said = self.logged()

    def _take(self, raw: Mapping[str, Any]) -> dict[str, Any]:
        """Take anything but an act of safety."""
        answer: dict[str, Any] = {}
        if not self._goes_on(raw):
            self.store_confirmed()
        try:
            with self.session.begin_nested():
                entry = Entry.read(
                    raw, kinds=KINDS, device=self.device, arrived_at=self.now
                )
                facts = self._card(entry)
                answer["card_id"] = entry.card_id
                answer["status"] = _store(
                    self.session,
                    self.person,
                    facts,
                    entry,
                    self.new_id,
                    self.arriving,
                    self.logged(),
                )
                if entry.kind == "reading" and answer["status"] == "stored":
                    self.arriving.read(facts.readings[-1])
            if entry.kind == "confirm" and answer["status"] == "stored":
                self.confirmed.append(facts.confirmations[-1])
            if entry.kind not in FOLLOWED_IN_FACTS:
                self.facts.clear()
        except DATABASE_AWAY:
            raise
        except Exception as error:
            if raw.get("kind") != "confirm":  # which changes nothing before it is sure
                self.facts.clear()
            answer |= _refusal(error)
        return answer

    def logged(self) -> dict[str, Any]:
        """Return what the log says of an entry beside what it brought."""
        return self.said | ({"offset_ms": self.offset_ms} if self.offset_ms else {})

    def _take_act(self, raw: Mapping[str, Any]) -> dict[str, Any]:
        """Take an act of safety: it is stored with those that come in this call."""
        try:
            return {"status": self.acts.take(raw)}
        except DATABASE_AWAY:
            raise
        except Exception as error:
            return _refusal(error)

    def _goes_on(self, raw: Mapping[str, Any]) -> bool:
        """Whether *raw* is one more confirmation on the card of those before."""
        cards = [str(before.card_id) for before in self.confirmed[:1]]
        return raw.get("kind") == "confirm" and raw.get("card_id") in cards

    def store_confirmed(self) -> None:
        """Store the confirmations that came one after the other on a card, as one."""
        if not self.confirmed:
            return
        row = keep_together(self.session, self.confirmed)
        append_log(
            self.session,
            actor_id=self.person.id,
            action="confirm",
            subject=f"card {row.card_id}",
            body={
                "key": str(row.id),
                "device": self.device,
                "digest": together_digest(row),
                **self.logged(),
            },
            now=self.now,
        )
        self.confirmed.clear()

    def _card(self, entry: Entry) -> CardFacts:
        if entry.card_id not in self.facts:
            card = card_of(self.session, self.sees, entry.card_id)
            if card.round_id != self.arriving.round.id:
                raise NotFoundError("card", entry.card_id)
            self.facts = gather(self.session, [card])
        return self.facts[entry.card_id]


def _refusal(error: Exception) -> dict[str, Any]:
    if isinstance(error, InputError):
        faults = [{"field": f.field, "message": f.message} for f in error.faults]
        return {"status": "refused", "faults": faults}
    if isinstance(error, NotFoundError):
        fault = {"field": "card_id", "message": f"There is {error}."}
        return {"status": "refused", "faults": [fault]}
    if isinstance(error, ConflictError | ForbiddenError):
        return {"status": "conflict", "faults": [{"field": "", "message": str(error)}]}
    LOG.error("an entry failed", exc_info=error)
    return {"status": "refused", "faults": [{"field": "", "message": NOT_TAKEN}]}


def _store(
    session: Session,
    person: Person,
    facts: CardFacts,
    entry: Entry,
    new_id: Callable[[], UUID],
    arriving: Arriving,
    said: Mapping[str, Any],
) -> str:
    """Store an entry; return what became of it. *said*: what the log says besides."""
    digest = hashlib.sha256(chain.canonical(texted(entry.raw))).hexdigest()
    if _is_known(session, person, facts, entry, digest):
        return "known"
    require_open(facts.card.round)
    if facts.state in ("signed", "withdrawn"):
        raise ConflictError(
            f"This card is {facts.state}; the lead can return it to you."
        )
    if facts.signed:
        names = " and ".join(s.by.name for s in facts.signed)
        raise ConflictError(
            f"{names} signed this card already; the lead can return it to you."
        )
    if entry.kind == "reading":
        require_released(facts, entry)
        require_open_card(facts, person, entry, arriving)
    body = KINDS[entry.kind](session, person, facts, entry, new_id)
    if entry.kind == "confirm":  # stored and logged with the next ones
        return "stored"
    session.add(
        Receipt(
            id=entry.key,
            person_id=person.id,
            digest=digest,
            received_at=entry.arrived_at,
        )
    )
    append_log(
        session,
        actor_id=person.id,
        action=entry.kind.replace("_", " "),
        subject=f"card {facts.card.id}",
        body={"key": str(entry.key), "device": entry.device, **body, **said},
        now=entry.arrived_at,
    )
    return "stored"


def _is_known(
    session: Session, person: Person, facts: CardFacts, entry: Entry, digest: str
) -> bool:
    """Whether the entry is stored already; ConflictError with other content.

    A confirmation has no receipt: it is looked for on its card.
    """
    seen = session.get(Receipt, entry.key)
    own = (c for c in facts.confirmations if c.id == entry.key)
    row = next(own, None) if seen is None else None
    if seen is None and row is None:
        return False
    if seen and (seen.digest, seen.person_id) == (digest, person.id):
        return True
    if row and says_the_same(row, entry, person.id):
        return True
    raise ConflictError(
        "An entry with this key was stored before with other content; enter it anew."
    )


def card_as_it_stands(
    session: Session, card: Card, seen: Mapping[UUID, RoundSafety] | None = None
) -> dict[str, Any]:
    """Return the card's JSON, read again, with the rules that it names.

    *seen*: the safety of its round, where it is loaded already.
    """
    return cards_as_they_stand(session, [card], seen)[0]


def cards_as_they_stand(
    session: Session,
    cards: Sequence[Card],
    seen: Mapping[UUID, RoundSafety] | None = None,
) -> list[dict[str, Any]]:
    """Return the JSON of cards like `card_as_it_stands`; safety is loaded once."""
    facts = gather(session, cards, seen)
    return [_shown(session, facts[card.id]) for card in cards]


def _shown(session: Session, facts: CardFacts) -> dict[str, Any]:
    card, shown = facts.card, card_json(facts)
    shown["rules"] = named_rules([card])
    if card.round.kind == "maintenance":
        values = baseline_values(session, card.round.lineup_id, card.apparatus_id)
        add_baseline([shown], [card], values)
    return shown
