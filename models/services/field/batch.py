"""The entries of one call, stored in their order."""

import hashlib
import logging
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import event, select
from sqlalchemy.exc import InterfaceError, OperationalError
from sqlalchemy.orm import Session, joinedload, selectinload

from models.errors import (
    ConflictError,
    ForbiddenError,
    InputError,
    NotFoundError,
)
from models.schema import Card, Person, Point, Receipt, Round
from models.schema.confirmations import Confirmation
from models.services.field.card_facts import CardFacts, gather
from models.services.field.entry import Entry
from models.services.field.entry_kinds import KINDS, says_the_same
from models.services.field.entry_marks import without_marks
from models.services.field.hold_points import require_released
from models.services.field.record_reading import keep_reading, new_reading
from models.services.field.refusal import refusal
from models.services.field.require_open_card import require_open_card
from models.services.keeping.confirmations import keep_together, together_digest
from models.services.keeping.log import append_log, texted
from models.services.keeping.receipts import Receipts
from models.services.people.access import require_open
from models.services.safety.arriving import Arriving
from models.services.safety.keep_acts import Keeper
from models.signing import chain

LOG = logging.getLogger(__name__)
# The database is away, locked or full: what is tried again later may well succeed.
DATABASE_AWAY = (OperationalError, InterfaceError)
# What is said of an entry itself, before anything of it is added.
OF_THE_ENTRY = (InputError, NotFoundError, ConflictError, ForbiddenError)
READING = "reading"
SAFETY = "safety"  # an entry that is an act of safety: models.services.safety
FOLLOWED_IN_FACTS = ("confirm", "reading")  # they add what they store to the facts


@dataclass(slots=True, kw_only=True)
class Call:
    """One call: whose entries they are, of which round, from which tablet."""

    session: Session
    person: Person
    round: Round
    device: str
    now: datetime
    new_id: Callable[[], UUID]
    said: Mapping[str, Any] = field(default_factory=dict)  # by the log, of each entry


def take_in(
    call: Call, entries: Sequence[Mapping[str, Any]]
) -> tuple["Batch", list[dict[str, Any]]]:
    """Store *entries* in their order; return the batch, and what became of each.

    Readings go to the database together. Where it, or the program, fails on that, each
    entry is taken once more, alone: the one that is the reason is refused.
    """
    try:
        with _added_held(call.session), call.session.begin_nested():
            batch = Batch(call)
            return batch, batch.accept_all(entries)
    except DATABASE_AWAY:
        raise
    except Exception:
        LOG.info("each entry of this call is taken alone", exc_info=True)
    batch = Batch(call, alone=True)
    return batch, batch.accept_all(entries)


@contextmanager
def _added_held(session: Session) -> Iterator[None]:
    """Hold what is added meanwhile: a session forgets only what it still knows as new.

    What was let go, and read again, would stay in it when its savepoint is undone.
    """
    held: list[object] = []

    def hold(_session: Session, one: object) -> None:
        held.append(one)

    event.listen(session, "pending_to_persistent", hold)
    try:
        yield
    finally:
        event.remove(session, "pending_to_persistent", hold)


class Batch:
    """The entries of one call; what is known of their cards is read once."""

    def __init__(self, call: Call, *, alone: bool = False) -> None:
        """*alone*: each entry is stored by itself, or nothing of it."""
        self.call, self.session, self.alone = call, call.session, alone
        self.arriving = Arriving(call.session, call.round, device=call.device)
        self.receipts = Receipts(call.session)
        self.acts = Keeper(
            call.session,
            call.round.lineup.site,
            call.person,
            device=call.device,
            now=call.now,
            judge=self.arriving,
            receipts=self.receipts,
        )
        self.offset_ms = 0
        self.acts.said = self.logged()
        self.cards: dict[UUID, Card] = {}  # of the round, that entries name
        self.facts: dict[UUID, CardFacts] = {}
        self.gathered = False
        self.confirmed: list[Confirmation] = []  # not stored yet

    def accept_all(self, entries: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
        """Store entries one by one, in their order."""
        self._expect(entries)
        answers = [self.accept(entry) for entry in entries]
        self.store_confirmed()
        self.acts.store()
        return answers

    def _expect(self, entries: Sequence[Mapping[str, Any]]) -> None:
        """Look up in one go what the entries name."""
        keys = _ids(entries, "key")
        self.receipts.expect(keys)
        if any(entry.get("kind") == SAFETY for entry in entries):
            self.acts.expect(keys)
        about_cards = [entry for entry in entries if entry.get("kind") != SAFETY]
        self.cards = _cards_of(self.session, self.call.round, about_cards)
        readings = [entry for entry in about_cards if entry.get("kind") == READING]
        self.arriving.expect(self.cards.keys() & _ids(readings, "card_id"))

    def accept(self, raw: Mapping[str, Any]) -> dict[str, Any]:
        """Store one entry, or say why not; nothing of a refused one remains."""
        key = raw.get("key")
        shown = key if isinstance(key, str) else None  # NaN would make it no JSON
        answer: dict[str, Any] = {"key": shown, "faults": [], "card_id": None}
        try:
            own, offset_ms = without_marks(raw)
        except InputError as error:
            return answer | refusal(error)
        self._by_a_clock_off_by(offset_ms)
        if own.get("kind") == SAFETY:
            return answer | self._take_act(own)
        if not self._goes_on(own):
            self.store_confirmed()
        if own.get("kind") == READING and not self.alone:
            return answer | self._take_reading(own)
        return answer | self._take(own)

    def _by_a_clock_off_by(self, offset_ms: int) -> None:
        """Log by itself what came before: what is logged as one says one offset."""
        if offset_ms == self.offset_ms:
            return
        self.store_confirmed()
        self.acts.store()
        self.offset_ms = offset_ms
        self.acts.said = self.logged()

    def _take_reading(self, raw: Mapping[str, Any]) -> dict[str, Any]:
        """Take a reading, to be stored with the others: it is found good before."""
        call, answer = self.call, dict[str, Any]()
        try:
            entry, facts = self._named(raw, answer)
            digest = _digest(entry)
            if self._is_known(facts, entry, digest):
                return answer | {"status": "known"}
            self._check_open(facts, entry)
            row = new_reading(self.session, call.person, facts, entry)
        except OF_THE_ENTRY as error:
            return answer | refusal(error)
        body = keep_reading(self.session, facts, row, call.new_id)
        self._keep(facts, entry, digest, body)
        self.arriving.read(row)
        return answer | {"status": "stored"}

    def _take(self, raw: Mapping[str, Any]) -> dict[str, Any]:
        """Take anything but an act of safety, in a savepoint of its own."""
        answer: dict[str, Any] = {}
        self.session.flush()  # what came before is no fault of this one
        try:
            with self.session.begin_nested():
                entry, facts = self._named(raw, answer)
                answer["status"] = self._store(facts, entry)
            if entry.kind == "confirm" and answer["status"] == "stored":
                self.confirmed.append(facts.confirmations[-1])
            if entry.kind not in FOLLOWED_IN_FACTS:
                self._forget(entry.card_id)
        except DATABASE_AWAY:
            raise
        except Exception as error:
            if raw.get("kind") != "confirm":  # which changes nothing before it is sure
                self._forget(answer.get("card_id"))
            answer |= refusal(error)
        return answer

    def _store(self, facts: CardFacts, entry: Entry) -> str:
        """Store an entry; return what became of it."""
        digest = _digest(entry)
        if self._is_known(facts, entry, digest):
            return "known"
        self._check_open(facts, entry)
        call = self.call
        body = KINDS[entry.kind](self.session, call.person, facts, entry, call.new_id)
        if entry.kind == "confirm":  # stored and logged with the next ones
            return "stored"
        self._keep(facts, entry, digest, body)
        self.session.flush()
        if entry.kind == READING:
            self.arriving.read(facts.readings[-1])
        return "stored"

    def _keep(
        self, facts: CardFacts, entry: Entry, digest: str, body: Mapping[str, Any]
    ) -> None:
        """Add the receipt and the log's entry."""
        append_log(
            self.session,
            actor_id=self.call.person.id,
            action=entry.kind.replace("_", " "),
            subject=f"card {facts.card.id}",
            body={
                "key": str(entry.key),
                "device": entry.device,
                **body,
                **self.logged(),
            },
            now=entry.arrived_at,
            flush=False,
        )
        self.receipts.add(
            Receipt(
                id=entry.key,
                person_id=self.call.person.id,
                digest=digest,
                received_at=entry.arrived_at,
            )
        )

    def _check_open(self, facts: CardFacts, entry: Entry) -> None:
        """Raise where the card takes no entry, or not this one."""
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
        if entry.kind == READING:
            require_released(facts, entry)
            require_open_card(facts, self.call.person, entry, self.arriving)

    def logged(self) -> dict[str, Any]:
        """Return what the log says of an entry beside what it brought."""
        offset = {"offset_ms": self.offset_ms} if self.offset_ms else {}
        return {**self.call.said, **offset}

    def _take_act(self, raw: Mapping[str, Any]) -> dict[str, Any]:
        """Take an act of safety: it is stored with those that come in this call."""
        if self.session.new:
            self.session.flush()  # what came before is no fault of this one
        try:
            return {"status": self.acts.take(raw)}
        except DATABASE_AWAY:
            raise
        except Exception as error:
            return refusal(error)

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
            actor_id=self.call.person.id,
            action="confirm",
            subject=f"card {row.card_id}",
            body={
                "key": str(row.id),
                "device": self.call.device,
                "digest": together_digest(row),
                **self.logged(),
            },
            now=self.call.now,
        )
        self.confirmed.clear()

    def _named(
        self, raw: Mapping[str, Any], answer: dict[str, Any]
    ) -> tuple[Entry, CardFacts]:
        """Return the entry and what is known of its card; *answer* learns the card."""
        call = self.call
        entry = Entry.read(raw, kinds=KINDS, device=call.device, arrived_at=call.now)
        facts = self._facts_of(entry.card_id)
        answer["card_id"] = entry.card_id
        return entry, facts

    def _facts_of(self, card_id: UUID) -> CardFacts:
        """Return what is known of a card of the round; NotFoundError."""
        if card_id not in self.cards:
            raise NotFoundError("card", card_id)
        if not self.gathered:
            self.gathered = True
            self.facts = gather(self.session, [*self.cards.values()])
        if card_id not in self.facts:  # something came that is not followed
            self.facts |= gather(self.session, [self.cards[card_id]])
        return self.facts[card_id]

    def _forget(self, card_id: UUID | None) -> None:
        """Read a card again when it is asked for."""
        if card_id is not None:
            self.facts.pop(card_id, None)

    def _is_known(self, facts: CardFacts, entry: Entry, digest: str) -> bool:
        """Whether the entry is stored already; ConflictError with other content.

        A confirmation has no receipt: it is looked for on its card.
        """
        person_id = self.call.person.id
        seen = self.receipts.get(entry.key)
        own = (c for c in facts.confirmations if c.id == entry.key)
        row = next(own, None) if seen is None else None
        if seen is None and row is None:
            return False
        if seen and (seen.digest, seen.person_id) == (digest, person_id):
            return True
        if row and says_the_same(row, entry, person_id):
            return True
        raise ConflictError(
            "An entry with this key was stored before with other content; enter it "
            "anew."
        )


def _digest(entry: Entry) -> str:
    return hashlib.sha256(chain.canonical(texted(entry.raw))).hexdigest()


def _ids(entries: Sequence[Mapping[str, Any]], name: str) -> set[UUID]:
    """Return what the entries name so; what is no identifier is said of its entry."""
    return {*_read_ids(entries, name)}


def _read_ids(entries: Sequence[Mapping[str, Any]], name: str) -> Iterator[UUID]:
    for entry in entries:
        try:
            yield UUID(str(entry.get(name)))
        except ValueError:
            continue


def _cards_of(
    session: Session, round_: Round, entries: Sequence[Mapping[str, Any]]
) -> dict[UUID, Card]:
    """Return those cards of the round that entries name, with what is on them."""
    asked = (
        select(Card)
        .where(Card.id.in_(_ids(entries, "card_id")), Card.round_id == round_.id)
        .options(
            selectinload(Card.points).selectinload(Point.stored_rule),
            joinedload(Card.apparatus),
            joinedload(Card.cell),
            joinedload(Card.assigned_to),
        )
    )
    return {card.id: card for card in session.scalars(asked)} if entries else {}
