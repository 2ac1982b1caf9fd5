"""A crew at work on one round of the demo, through the services, as people would."""

from datetime import datetime, timedelta
from types import SimpleNamespace
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.procedures import PROCEDURES
from models.schema import Card
from models.services.field.accept_entries import accept_entries
from models.services.field.card_facts import gather, round_cards
from models.services.field.sign_cards import sign_cards
from models.services.planning.round_plan import proposed_plan
from models.services.safety.round_safety import RoundSafety
from models.services.setup.plan_round import plan_round
from models.services.turnover import acceptance, lead_acts, package
from seed_demo import readings as shown
from seed_demo.crew import Member
from seed_demo.found import FOUND
from seed_demo.instruments import usual_instrument
from seed_demo.people import (
    LEAD,
    OWNER,
    SECOND,
    TECHNICIAN,
    DemoPerson,
    fixed_id,
)
from seed_demo.plans import PlanChanges, changed_plan
from seed_demo.safety_walk import SafetyWalk
from webapp.package_files import make_signed, verified_digest

USUAL_PROGRAMME = {
    "acceptance": "Acceptance, any gear",
    "maintenance": "Maintenance, any gear",
}
PER_READING, PER_LINE = timedelta(minutes=3), timedelta(seconds=6)
SHIFT = timedelta(hours=8)


class Player:
    """Acts as the crew on one round; its clock moves on with each act."""

    def __init__(
        self, session: Session, lineup: str, kind: str, at: datetime, password: str
    ) -> None:
        """Begin at *at*."""
        self.session, self.lineup, self.kind = session, lineup, kind
        self.at, self.password = at, password
        self.began = at  # the shift
        self.round_id: UUID
        self.cards: dict[tuple[str, str], Card] = {}
        self.to_sign: dict[UUID, list[UUID]] = {}
        self.readings: list[dict[str, Any]] = []
        self.held: list[tuple[UUID, list[dict[str, Any]]]] | None = None

    def open(
        self, changes: PlanChanges | None = None, programme: str | None = None
    ) -> None:
        """Open the round as the lead, as the programme proposes it or with changes."""
        programme = programme or USUAL_PROGRAMME[self.kind]
        lineup_id = fixed_id(self.lineup)
        plan = None
        if changes is not None:
            proposed = proposed_plan(self.session, lineup_id, self.kind, programme)
            plan = changed_plan(self.session, proposed, changes, self.at)
        self.round_id = plan_round(
            self.session,
            person_id=LEAD.id,
            lineup_id=lineup_id,
            kind=self.kind,
            programme=programme,
            now=self.at,
            new_id=uuid4,
            plan=plan,
        )
        self.cards = {
            (card.apparatus.label, card.procedure): card
            for card in round_cards(self.session, self.round_id)
        }

    @property
    def walk(self) -> SafetyWalk:
        """The crew that gives the lines of safety on this round."""
        return SafetyWalk(
            self.session,
            self.round_id,
            crew=(_member(TECHNICIAN), _member(SECOND)),
            found=FOUND[self.lineup],
            send=self._send,
            moment=lambda: self._pass(PER_LINE),
            wait=lambda seconds: self._pass(timedelta(seconds=seconds)),
            arrive=self._arrive,
        )

    def _pass(self, duration: timedelta) -> datetime:
        self.at += duration
        return self.at

    def fill_all(self, table: shown.Round) -> None:
        """Fill the cards of *table*, in its order."""
        for (apparatus, procedure), filled in table.items():
            self.fill(apparatus, procedure, filled)

    def fill(self, apparatus: str, procedure: str, filled: shown.Filled) -> None:
        """Make safe to test, enter the readings, make safe again, note who signs.

        All of it is sent when the card is done, as a tablet without signal does.
        """
        card = self.cards[apparatus, procedure]
        of_second = procedure == shown.RT or card.assigned_to_id == SECOND.id
        who = SECOND if of_second else TECHNICIAN
        complete = len(filled.texts) == len(card.points)
        self._rest()
        self.held = []
        seen: RoundSafety | None = self.walk.open(card, _member(who), filled.conditions)
        for at, text in enumerate(filled.texts):
            self._read(who, card, at, filled, text)
            seen = None if isinstance(text, shown.Again) else seen
        if seen is not None:
            for entry in self.readings:
                seen.hear_reading(_as_stored(card, entry, who))
        self._send_readings(who.id)
        if filled.note:
            self._send(who.id, [self._entry(card, "note", text=filled.note)])
        if complete:
            self.walk.finish(card, _member(who), filled.conditions, seen)
        self._arrive()
        self.held = None
        if filled.signed and complete:
            self.to_sign.setdefault(who.id, []).append(card.id)

    def _rest(self) -> None:
        """End the shift after its hours, and go on the next morning."""
        if self.at - self.began > SHIFT:
            self.walk.end_shift()
            self.began += timedelta(days=1)
            self.at = max(self.at, self.began)

    def sign(self) -> None:
        """Sign the complete cards, each person theirs, at the end of the day."""
        for person_id, card_ids in self.to_sign.items():
            sign_cards(
                self.session,
                person_id=person_id,
                round_id=self.round_id,
                card_ids=card_ids,
                password=self.password,
                now=self.at,
            )

    def raise_deficiency(
        self, key: tuple[str, str], point: int, text: str, holder: str
    ) -> UUID:
        """Raise a deficiency on the reading at a point, and return its id."""
        card = self.cards[key]
        facts = gather(self.session, [card])[card.id]
        reading = next(r for r in facts.current if r.point_id == card.points[point].id)
        return UUID(self._deficiency(TECHNICIAN.id, card, reading.id, text, holder))

    def hand_back(self) -> None:
        """Return the clearances, and end the shift."""
        self.walk.hand_back("waterworks control room")

    def turn_over(self) -> None:
        """Dispose of what is marginal, sign, approve, accept."""
        self.hand_back()
        self.at += timedelta(hours=20)
        for facts in gather(self.session, list(self.cards.values())).values():
            for reading in facts.current:
                if reading.judgement.verdict != "within":
                    lead_acts.dispose(
                        self.session,
                        person_id=LEAD.id,
                        reading_ids=[reading.id],
                        new_id=uuid4,
                        decision="use_as_is",
                        reason=shown.DISPOSED["acceptance"],
                        password=self.password,
                        now=self.at,
                    )
        for person in (TECHNICIAN, SECOND):
            self._seal(person.id, "performed")
        self.at += timedelta(hours=2)
        self._seal(LEAD.id, "approved")
        self.at += timedelta(days=2)
        file = acceptance.file_to_accept(
            self.session, person_id=OWNER.id, round_id=self.round_id
        )
        acceptance.accept_package(
            self.session,
            person_id=OWNER.id,
            round_id=self.round_id,
            sha256=verified_digest(file),
            password=self.password,
            now=self.at,
        )

    def _seal(self, person_id: UUID, meaning: str) -> None:
        self.at += timedelta(minutes=10)
        prepared = package.prepare(
            self.session,
            person_id=person_id,
            round_id=self.round_id,
            meaning=meaning,
            password=self.password,
            now=self.at,
        )
        package.store_signed(
            self.session,
            prepared=prepared,
            round_id=self.round_id,
            pdf=make_signed(prepared, self.at),
            now=self.at,
        )

    def _read(
        self,
        who: DemoPerson,
        card: Card,
        at: int,
        filled: shown.Filled,
        text: str | shown.Again,
    ) -> None:
        instrument = filled.instrument or usual_instrument(card.procedure)
        common: dict[str, Any] = {
            "point_id": str(card.points[at].id),
            "conditions": {**filled.conditions, **filled.rows.get(at, {})},
            "instrument_id": str(fixed_id(instrument)),
        }
        again = text if isinstance(text, shown.Again) else None
        first = self._reading(card, again.first if again else str(text), common)
        self.readings.append(first)
        if again is None:
            return
        self._send_readings(who.id)
        deficiency = None
        if again.deficiency:
            deficiency = self._deficiency(
                who.id, card, UUID(first["key"]), again.deficiency, "installer"
            )
            self.at += timedelta(hours=4)
        self.walk.open(card, _member(who), filled.conditions)
        second = self._reading(card, again.then, common)
        second |= {"supersedes": first["key"], "reason": again.reason}
        self._send(who.id, [second])
        if deficiency:
            closing = self._entry(
                card,
                "close_deficiency",
                deficiency_id=deficiency,
                reading_id=second["key"],
                text=again.closing,
            )
            self._send(who.id, [closing])

    def _send_readings(self, person_id: UUID) -> None:
        """Send what was read since the last time."""
        self._send(person_id, self.readings)
        self.readings = []

    def _reading(self, card: Card, text: str, common: dict[str, Any]) -> dict[str, Any]:
        self.at += PER_READING
        about = PROCEDURES[card.procedure]
        outcome = text in about.outcomes
        unit = None if outcome else card.unit or about.default_unit
        return self._entry(card, "reading", text=text, unit=unit, **common)

    def _deficiency(
        self, person_id: UUID, card: Card, reading_id: UUID, text: str, holder: str
    ) -> str:
        entry = self._entry(
            card,
            "deficiency",
            text=text,
            severity="stops_turnover",
            holder=holder,
            reading_id=str(reading_id),
        )
        self._send(person_id, [entry])
        return str(entry["key"])

    def _entry(self, card: Card, kind: str, **fields: Any) -> dict[str, Any]:
        return {
            "key": str(uuid4()),
            "kind": kind,
            "card_id": str(card.id),
            "at": self.at.isoformat(),
            **fields,
        }

    def _send(self, person_id: UUID, entries: list[dict[str, Any]]) -> None:
        """Send entries, or hold them back behind those that are held."""
        if self.held is None:
            self._accept(person_id, entries)
        elif self.held and self.held[-1][0] == person_id:
            self.held[-1][1].extend(entries)
        else:
            self.held.append((person_id, list(entries)))

    def _arrive(self) -> None:
        """Send what is held back."""
        held, self.held = self.held or [], None if self.held is None else []
        for person_id, entries in held:
            self._accept(person_id, entries)

    def _accept(self, person_id: UUID, entries: list[dict[str, Any]]) -> None:
        answers = accept_entries(
            self.session,
            person_id=person_id,
            round_id=self.round_id,
            device="demo tablet",
            entries=entries,
            now=self.at,
        )
        for answer in answers:
            if answer["status"] != "stored":
                raise ValueError(f"the demo's entry was not stored: {answer}")


def _member(who: DemoPerson) -> Member:
    return Member(id=who.id, name=who.name)


def _as_stored(card: Card, entry: dict[str, Any], who: DemoPerson) -> SimpleNamespace:
    """Return a reading as the safety of its round asks for it once it is stored."""
    return SimpleNamespace(
        id=entry["key"],
        card_id=card.id,
        taken_at=datetime.fromisoformat(entry["at"]),
        by_id=who.id,
        conditions=entry["conditions"],
    )
