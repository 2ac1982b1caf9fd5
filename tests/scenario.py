"""A made-up firm, owner and lineup, built through the services; its crew at work.

`build(session)` adds the place once: people with keys, instruments, one lineup.
`Work(session)` opens a round there and acts on it as people would; its clock moves
on with every act. Identifiers are fixed, so a copied database needs no second build.

    build(session)
    work = Work.begin(session)                # an open acceptance round
    work.fill("breaker 52", IR)               # confirm, read, sign
    work.read("breaker 52", CR, "61.7")       # one reading at the next point
    work.fill_all()                           # whatever is left
    work.turn_over()                          # sign, approve, accept
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256
from typing import Any
from uuid import UUID, uuid4, uuid5

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.record.instrument import Range
from models.record.lineup_draft import (
    ApparatusDraft,
    CellDraft,
    LineupDraft,
    SectionDraft,
)
from models.schema import (
    Card,
    LogEntry,
    NameplateConfirmation,
    Person,
    Point,
    Reading,
    Round,
    Site,
)
from models.services.field.accept_entries import accept_entries
from models.services.field.card_facts import (
    CardFacts,
    before_codes,
    gather,
    precondition_codes,
    round_cards,
)
from models.services.field.sign_cards import sign_cards
from models.services.people import assignments, people
from models.services.setup import assets
from models.services.setup.plan_round import plan_round
from models.services.setup.plate_versions import versions_of
from models.services.setup.write_lineup import Writing
from models.services.turnover import acceptance, agreements, lead_acts, package
from models.services.turnover.gate import Gate, gate
from seed_demo.crew import Member
from seed_demo.crew import Site as FoundSite
from seed_demo.safety_walk import SafetyWalk
from webapp.package_files import make_signed

SPACE = UUID("0c5f8a52-6f0b-5c0e-9b1f-7f3a3d1f2b66")
SECRET = "the installation's secret, for tests"
PASSWORD = "stripe-of-paint"
ZONE = "Pacific/Auckland"  # its day is ahead of UTC's for half of the day
BEGAN = datetime(2026, 3, 2, 21, 0, tzinfo=UTC)  # the morning of 3 March at the site

IR, CR = "insulation_resistance", "contact_resistance"
VI, DW, RT = "vacuum_integrity", "dielectric_withstand", "relay_timing"

OWNER_FIRM, TEST_FIRM = "Marram Harbour Trust", "Fathom Line Testing"
OTHER_OWNER, OTHER_FIRM = "Saltern Quarry", "Keel and Bracket Testing"
SITE, OTHER_SITE = "Marram pumping station", "Saltern crusher house"
LINEUP = "MV-1"


# What the crew finds at the lineup: each is made up.
FOUND = FoundSite(
    clearance="4711",
    items={
        None: [
            (
                "source",
                {
                    "source_kind": "line",
                    "name": "incomer",
                    "isolating_point": "89-1",
                    "beyond": "dead",
                },
            ),
            ("ground", {"ground_kind": "portable", "number": "G-1", "place": "bus"}),
        ]
    },
)


def fixed_id(name: str) -> UUID:
    """Return the same identifier for the same name."""
    return uuid5(SPACE, name)


@dataclass(frozen=True, slots=True)
class Cast:
    """Somebody of the scenario; the password of all is PASSWORD."""

    sign_in: str
    name: str
    role: str  # several with "+" between
    firm: str
    on_site: bool = True

    @property
    def roles(self) -> tuple[str, ...]:
        """The roles."""
        return tuple(self.role.split("+"))

    @property
    def id(self) -> UUID:
        """The person's identifier."""
        return fixed_id(f"person {self.sign_in}")


TECHNICIAN = Cast("tern", "Wren Tern", "technician", TEST_FIRM)
SECOND = Cast("plover", "Ida Plover", "technician", TEST_FIRM)
LEAD = Cast("heron", "Otto Heron", "lead", TEST_FIRM)
OTHER_LEAD = Cast("egret", "Mae Egret", "lead", TEST_FIRM)
OWNER = Cast("curlew", "Noor Curlew", "owner", OWNER_FIRM)
OFF_SITE = Cast("rail", "Joss Rail", "technician", TEST_FIRM, on_site=False)
OFF_SITE_LEAD = Cast("crake", "Ana Crake", "lead", TEST_FIRM, on_site=False)
RIVAL = Cast("gull", "Pim Gull", "technician", OTHER_FIRM)
STRANGER = Cast("skua", "Lew Skua", "owner", OTHER_OWNER)
BOTH = Cast("stint", "Kit Stint", "lead+technician", TEST_FIRM)
ADMINISTRATOR = Cast("knot", "Bea Knot", "administrator", TEST_FIRM, on_site=False)
PEOPLE = (
    TECHNICIAN,
    SECOND,
    LEAD,
    OTHER_LEAD,
    OWNER,
    OFF_SITE,
    OFF_SITE_LEAD,
    RIVAL,
    STRANGER,
    BOTH,
    ADMINISTRATOR,
)

CREW = (TECHNICIAN, SECOND, LEAD, OTHER_LEAD)

RATINGS = {
    "rated_kv": 15.0,
    "rated_withstand_kv": 36.0,
    "rated_impulse_kv": 95.0,
    "rated_a": 1200.0,
    "rated_hz": 50.0,
}
# kind, label, nameplate
BUS = ("bus", "bus", {"conductor": "copper", "insulation": "solid"})
BREAKER = (
    "breaker",
    "breaker 52",
    {"conductor": "copper", "insulation": "solid", "contact_limit_uohm": 60.0},
)
RELAY = (
    "relay",
    "relay 51",
    {
        "curve": "ieee_very_inverse",
        "pickup_a": 480.0,
        "time_dial": 2.0,
        "tolerance_pct": 5.0,
        "tolerance_s": 0.035,
    },
)
APPARATUS = (BUS, BREAKER, RELAY)

# tag, firm, procedures, percent, fixed part, its unit, calibrated on, due on
INSTRUMENTS: tuple[tuple[Any, ...], ...] = (
    ("IR-1", TEST_FIRM, [IR], 5.0, 0.02, "GOhm", (2025, 6, 1), (2026, 6, 1)),
    ("CR-1", TEST_FIRM, [CR], 0.5, 0.2, "uOhm", (2025, 6, 1), (2026, 6, 1)),
    ("HV-1", TEST_FIRM, [DW, VI], None, None, None, (2025, 6, 1), (2026, 6, 1)),
    ("RT-1", TEST_FIRM, [RT], 0.05, 0.001, "s", (2025, 6, 1), (2026, 6, 1)),
    # Due on 2 March: still good in UTC when the round begins, not at the site.
    ("IR-DUE", TEST_FIRM, [IR], 5.0, 0.02, "GOhm", (2025, 3, 2), (2026, 3, 2)),
    # Calibrated on 3 March: not yet so in UTC when the round begins.
    ("IR-NEW", TEST_FIRM, [IR], 5.0, 0.02, "GOhm", (2026, 3, 3), (2027, 3, 3)),
    ("IR-ALIEN", OTHER_FIRM, [IR], 5.0, 0.02, "GOhm", (2025, 6, 1), (2026, 6, 1)),
)
INSTRUMENT_OF = {IR: "IR-1", CR: "CR-1", VI: "HV-1", DW: "HV-1", RT: "RT-1"}
UNIT_OF = {IR: "GOhm", CR: "uOhm", VI: None, DW: None, RT: "s"}
CONDITIONS: dict[str, dict[str, Any]] = {
    IR: {"temperature_c": 20, "humidity_pct": 50, "test_kv": 2.5},
    CR: {"temperature_c": 20, "test_current_a": 100},
    VI: {"method": "ac", "test_kv": 27, "duration_s": 60},
    DW: {"supply": "ac", "test_kv": 27, "duration_s": 60},
    RT: {},
}
WITHIN: dict[str, tuple[str, ...]] = {
    # A bus has the first six of these points.
    IR: ("9.0", "9.5", "9.2", "41", "44", "39", "52", "55", "49"),
    CR: ("38.6", "39.4", "40.2"),
    VI: ("held", "held", "held"),
    DW: ("held", "held", "held"),
    RT: ("no_trip", "14.02", "5.88", "2.66", "1.385"),
}
OUTCOMES = ("held", "broke_down", "no_trip")


def within(card: Card) -> tuple[str, ...]:
    """Return a text a point that is within, in the order of the card's points."""
    return WITHIN[card.procedure][: len(card.points)]


def build(session: Session, apparatus: Sequence[Any] = APPARATUS) -> None:
    """Add the place and its people to an empty, migrated database."""
    at = BEGAN - timedelta(days=60)
    people.ensure_authority(
        session, secret=SECRET, authority_id=fixed_id("authority"), now=at
    )
    for kind, firm in (
        ("owner", OWNER_FIRM),
        ("test_firm", TEST_FIRM),
        ("owner", OTHER_OWNER),
        ("test_firm", OTHER_FIRM),
    ):
        people.add_organisation(
            session,
            organisation_id=fixed_id(firm),
            kind=kind,
            name=firm,
            address=f"{len(firm)} Quay Street",
        )
    for site, firm in ((SITE, OWNER_FIRM), (OTHER_SITE, OTHER_OWNER)):
        assets.add_site(
            session,
            site_id=fixed_id(site),
            owner_id=fixed_id(firm),
            name=site,
            address="Strand Road",
            zone=ZONE,
        )
    for person in PEOPLE:
        _add_person(session, person, at)
    for site in (SITE, OTHER_SITE):
        _add_lineup(session, site, apparatus)
    for row in INSTRUMENTS:
        _add_instrument(session, *row)
    session.flush()


def lineup_id(site: str = SITE) -> UUID:
    """Return the identifier of the site's lineup."""
    return fixed_id(f"{site} {LINEUP}")


def _add_lineup(session: Session, site: str, apparatus: Sequence[Any]) -> None:
    """Add the site's lineup as its lead would; another confirms its plates."""
    enter_lineup(session, site, lineup_draft(apparatus, site), lineup_id(site))


def enter_lineup(session: Session, site: str, draft: LineupDraft, key: UUID) -> None:
    """Add a lineup as the site's lead enters it; another confirms its plates."""
    lead, second = (session.get_one(Person, one.id) for one in (LEAD, SECOND))
    at = BEGAN - timedelta(days=60)
    own = iter([key])
    writing = Writing(
        session, by=lead, reason="", now=at, new_id=lambda: next(own, uuid4())
    )
    lineup = writing.write(session.get_one(Site, fixed_id(site)), None, draft)
    things = [one for cell in lineup.cells for one in cell.apparatus]
    session.add_all(
        NameplateConfirmation(id=uuid4(), version_id=version.id, by_id=second.id, at=at)
        for version in versions_of(session, [lineup, *things]).values()
    )


def lineup_draft(apparatus: Sequence[Any] = APPARATUS, site: str = SITE) -> LineupDraft:
    """Return the scenario's lineup as it is entered."""
    return LineupDraft(
        name=LINEUP,
        gear="metal_clad",
        ratings=RATINGS,
        sections=[SectionDraft(name="bus", rated_a=1200.0)],
        cells=[
            CellDraft(
                id=fixed_id(f"{site} cell 1"),
                number="1",
                name="Incomer",
                kind="breaker",
                bus="bus",
                apparatus=[
                    ApparatusDraft(
                        id=fixed_id(f"{site} {label}"),
                        kind=kind,
                        label=label,
                        plate=plate,
                    )
                    for kind, label, plate in apparatus
                ],
            )
        ],
    )


def _add_person(session: Session, person: Cast, at: datetime) -> None:
    people.add_person(
        session,
        person_id=person.id,
        key_id=fixed_id(f"key {person.sign_in}"),
        organisation_id=fixed_id(person.firm),
        name=person.name,
        sign_in=person.sign_in,
        roles=person.roles,
        password=PASSWORD,
        secret=SECRET,
        now=at,
    )
    sites = {TEST_FIRM: SITE, OTHER_FIRM: OTHER_SITE}
    if person.on_site and person.firm in sites:
        assignments.assign(
            session,
            person_id=person.id,
            site_id=fixed_id(sites[person.firm]),
            now=at,
        )


def _add_instrument(
    session: Session,
    tag: str,
    firm: str,
    procedures: list[str],
    pct: float | None,
    fixed: float | None,
    unit: str | None,
    since: tuple[int, int, int],
    due: tuple[int, int, int],
) -> None:
    assets.add_instrument(
        session,
        instrument_id=fixed_id(tag),
        organisation_id=fixed_id(firm),
        tag=tag,
        name=f"test set {tag}",
        serial=f"S-{tag}",
        procedures=procedures,
        ranges=[] if pct is None else [Range(unit=unit, pct_reading=pct, fixed=fixed)],
    )
    assets.add_calibration(
        session,
        calibration_id=fixed_id(f"{tag} calibration"),
        instrument_id=fixed_id(tag),
        calibrated_on=date(*since),
        due_on=date(*due),
        certificate_no=f"N-{tag}",
        laboratory="Plinth Calibration",
    )


def _insist(answers: list[Any]) -> list[Any]:
    refused = [a for a in answers if a["status"] != "stored"]
    assert not refused, [(a["status"], a["faults"]) for a in refused]
    return answers


class Work:
    """The crew at work on one round; `at` is its clock, `round_id` the round."""

    def __init__(self, session: Session, round_id: UUID, at: datetime) -> None:
        """Take up the round at a time."""
        self.session, self.round_id, self.at = session, round_id, at
        self.cards = {
            (card.apparatus.label, card.procedure): card
            for card in round_cards(session, round_id)
        }

    @classmethod
    def begin(
        cls,
        session: Session,
        *,
        kind: str = "acceptance",
        at: datetime = BEGAN,
        site: str = SITE,
        earlier_list: bool = False,
    ) -> "Work":
        """Open a round as the lead; *earlier_list*: as before safety had scopes."""
        round_id = plan_round(
            session,
            person_id=LEAD.id,
            lineup_id=lineup_id(site),
            kind=kind,
            programme=f"{kind.capitalize()}, five procedures",
            now=at,
            new_id=uuid4,
            earlier_list=earlier_list,
        )
        return cls(session, round_id, at)

    @classmethod
    def resume(cls, session: Session) -> "Work":
        """Take up the newest round, at the time of the last entry of the log."""
        newest = select(Round.id).order_by(Round.opened_at.desc()).limit(1)
        last = session.scalars(select(func.max(LogEntry.at))).one()
        return cls(session, session.scalars(newest).one(), last)

    def card(self, label: str, procedure: str) -> Card:
        """Return the card of one procedure on one apparatus."""
        return self.cards[label, procedure]

    def facts(self, label: str, procedure: str) -> CardFacts:
        """Return everything on the card, read again."""
        card = self.card(label, procedure)
        return gather(self.session, [card])[card.id]

    def verdicts(self, label: str, procedure: str) -> dict[str, str]:
        """Return the verdict that holds at each point that was read."""
        return {
            r.point.label: r.judgement.verdict
            for r in self.facts(label, procedure).current
        }

    def tick(self, **duration: float) -> datetime:
        """Move the clock on, by three minutes unless said otherwise; return it."""
        self.at += timedelta(**(duration or {"minutes": 3}))
        return self.at

    # Entries

    def entry(self, card: Card, kind: str, **fields: Any) -> dict[str, Any]:
        """Return an entry as a tablet makes it; *fields* go before the defaults."""
        made = {
            "key": str(uuid4()),
            "kind": kind,
            "card_id": str(card.id),
            "at": self.at.isoformat(),
        }
        return made | fields

    def reading(
        self, card: Card, point: Point, text: str, **fields: Any
    ) -> dict[str, Any]:
        """Return a reading's entry, with the conditions of a sound test."""
        unit = None if text in OUTCOMES else UNIT_OF[card.procedure]
        made = {
            "point_id": str(point.id),
            "text": text,
            "unit": unit,
            "conditions": CONDITIONS[card.procedure],
            "instrument_id": str(fixed_id(INSTRUMENT_OF[card.procedure])),
        }
        return self.entry(card, "reading", **made | fields)

    def line(self, card: Card, code: str, **fields: Any) -> dict[str, Any]:
        """Return an act that confirms a line of the card's test."""
        made = {
            "key": str(uuid4()),
            "kind": "safety",
            "at": self.at.isoformat(),
            "act": "line",
            "scope": "test",
            "of": str(card.id),
            "code": code,
            "item": None,
            "state": "confirmed",
            "reason": None,
            "noted": {},
        }
        return made | fields

    @property
    def by_the_earlier_list(self) -> bool:
        """Whether the round was begun before safety had scopes."""
        return self.session.get_one(Round, self.round_id).earlier_list

    def confirm_earlier(
        self,
        label: str,
        procedure: str,
        *,
        by: Cast = TECHNICIAN,
        after: bool = False,
    ) -> None:
        """Confirm the earlier list of a card, before or after the test."""
        card, before = self.card(label, procedure), before_codes(procedure)
        codes = [
            code
            for code in precondition_codes(procedure)
            if (code in before) is not after
        ]
        self.store(
            *(self.entry(card, "confirm", code=c, state="confirmed") for c in codes),
            by=by,
        )

    def send(self, *entries: dict[str, Any], by: Cast = TECHNICIAN) -> list[Any]:
        """Send the entries as they are, and return the answers."""
        return self._arrive(by.id, entries)

    def _arrive(self, person_id: UUID, entries: Sequence[dict[str, Any]]) -> list[Any]:
        return accept_entries(
            self.session,
            person_id=person_id,
            round_id=self.round_id,
            device="tablet 1",
            entries=entries,
            now=self.at,
        )

    def store(self, *entries: dict[str, Any], by: Cast = TECHNICIAN) -> list[Any]:
        """Send the entries, and insist that each is stored."""
        return _insist(self.send(*entries, by=by))

    # A card, step by step

    @property
    def walk(self) -> SafetyWalk:
        """The crew that makes stand what a card asks."""
        members = [Member(id=one.id, name=one.name) for one in (TECHNICIAN, SECOND)]
        return SafetyWalk(
            self.session,
            self.round_id,
            crew=(members[0], members[1]),
            found=FOUND,
            send=self._send_acts,
            moment=lambda: self.tick(milliseconds=1),
            wait=lambda seconds: self.tick(seconds=seconds),
        )

    def _send_acts(self, by: UUID, acts: list[dict[str, Any]]) -> None:
        _insist(self._arrive(by, acts))

    def confirm(
        self,
        label: str,
        procedure: str,
        *,
        by: Cast = TECHNICIAN,
        after: bool = False,
        conditions: Mapping[str, Any] | None = None,
    ) -> None:
        """Give what stands between the card and a reading, or comes after the last."""
        if self.by_the_earlier_list:
            self.confirm_earlier(label, procedure, by=by, after=after)
            return
        who = Member(id=by.id, name=by.name)
        card = self.card(label, procedure)
        if after:  # by the supply or method of the last reading
            self.walk.finish(card, who, conditions)
        else:
            self.walk.open(card, who, conditions or CONDITIONS.get(procedure))

    def read(
        self,
        label: str,
        procedure: str,
        *texts: str,
        by: Cast = TECHNICIAN,
        **fields: Any,
    ) -> list[UUID]:
        """Store readings at the next points without one; return their keys."""
        self.confirm(label, procedure, by=by, conditions=fields.get("conditions"))
        facts = self.facts(label, procedure)
        taken = {r.point_id for r in facts.current}
        free = [p for p in facts.card.points if p.id not in taken]
        assert len(texts) <= len(free), "more texts than free points"
        entries = []
        for point, text in zip(free, texts, strict=False):
            self.tick()
            entries.append(self.reading(facts.card, point, text, **fields))
        self.store(*entries, by=by)
        return [UUID(entry["key"]) for entry in entries]

    def again(
        self,
        label: str,
        procedure: str,
        superseded: UUID,
        text: str,
        *,
        reason: str = "measured again after cleaning",
        by: Cast = TECHNICIAN,
        **fields: Any,
    ) -> UUID:
        """Store a reading that supersedes another; return its key."""
        self.confirm(label, procedure, by=by, conditions=fields.get("conditions"))
        facts = self.facts(label, procedure)
        old = next(r for r in facts.readings if r.id == superseded)
        self.tick()
        entry = self.reading(
            facts.card,
            old.point,
            text,
            supersedes=str(superseded),
            reason=reason,
            **fields,
        )
        self.store(entry, by=by)
        return UUID(entry["key"])

    def sign(self, *cards: tuple[str, str], by: Cast = TECHNICIAN) -> None:
        """Make safe what was tested, and sign the cards as performed."""
        if not self.by_the_earlier_list:
            for label, procedure in cards:
                self.confirm(label, procedure, by=by, after=True)
        self.tick()
        sign_cards(
            self.session,
            person_id=by.id,
            round_id=self.round_id,
            card_ids=[self.cards[key].id for key in cards],
            password=PASSWORD,
            now=self.at,
        )

    def fill(
        self,
        label: str,
        procedure: str,
        *texts: str,
        by: Cast = TECHNICIAN,
        sign: bool = True,
        **fields: Any,
    ) -> list[UUID]:
        """Confirm, read every point (within, unless told otherwise), sign."""
        said = texts or within(self.card(label, procedure))
        keys = self.read(label, procedure, *said, by=by, **fields)
        self.confirm(label, procedure, by=by, after=True)
        if sign:
            self.sign((label, procedure), by=by)
        return keys

    def fill_all(self, *, by: Cast = TECHNICIAN) -> None:
        """Fill and sign every card on which nothing has been read."""
        for label, procedure in self.cards:
            facts = self.facts(label, procedure)
            if facts.state in ("not_begun", "begun") and not facts.readings:
                self.fill(label, procedure, by=by)

    # The lead, the package, the owner

    def gate(self, by: Cast = LEAD) -> Gate:
        """Return the gate as this person sees it."""
        return gate(self.session, person_id=by.id, round_id=self.round_id)

    def dispose(
        self,
        reading_id: UUID,
        decision: str = "use_as_is",
        by: Cast = LEAD,
        *,
        agreed: bool = True,
    ) -> UUID:
        """Record the lead's decision on a reading; the owner agrees where they must."""
        key = uuid4()
        lead_acts.dispose(
            self.session,
            person_id=by.id,
            reading_ids=[reading_id],
            new_id=lambda: key,
            decision=decision,
            reason="clear of anything that could harm it",
            password=PASSWORD,
            now=self.tick(),
        )
        verdict = self.session.get_one(Reading, reading_id).judgement.verdict
        if agreed and verdict == "outside" and decision != "reject":
            self.answer(key)
        return key

    def answer(
        self, decision: UUID, answer: str = "agreed", by: Cast = OWNER, reason: str = ""
    ) -> None:
        """Agree to a decision of the lead, or refuse it."""
        agreements.answer_decision(
            self.session,
            person_id=by.id,
            subject_id=decision,
            agreement_id=uuid4(),
            answer=answer,
            reason=reason,
            password=PASSWORD,
            now=self.tick(),
        )

    def give_back(self, label: str, procedure: str, by: Cast = LEAD) -> None:
        """Return a signed card to the technician."""
        lead_acts.return_card(
            self.session,
            person_id=by.id,
            card_id=self.card(label, procedure).id,
            return_id=uuid4(),
            reason="measure the first point again",
            now=self.tick(),
        )

    def hand_over(self, label: str, procedure: str, by: Cast) -> None:
        """Hand a signed card back; somebody else measures all again and signs it."""
        self.give_back(label, procedure)
        for old in self.facts(label, procedure).current:
            self.again(label, procedure, old.id, old.text, by=by)
        self.confirm(label, procedure, by=by, after=True)
        self.sign((label, procedure), by=by)

    def withdraw(
        self, label: str, procedure: str, by: Cast = LEAD, *, agreed: bool = True
    ) -> UUID:
        """Take a card out of the programme; the owner agrees to it."""
        key = uuid4()
        lead_acts.withdraw_card(
            self.session,
            person_id=by.id,
            card_id=self.card(label, procedure).id,
            withdrawal_id=key,
            reason="the maker tests it at the works",
            now=self.tick(),
        )
        if agreed:
            self.answer(key)
        return key

    def waive(self, performer: Cast, by: Cast = LEAD) -> None:
        """Record why a performer's signature on the package is not to be had."""
        lead_acts.waive_seal(
            self.session,
            person_id=by.id,
            round_id=self.round_id,
            performer_id=performer.id,
            waiver_id=uuid4(),
            reason="has left the firm",
            now=self.tick(),
        )

    def seal(
        self,
        by: Cast,
        meaning: str,
        make: Callable[[package.Prepared, datetime], bytes] | None = None,
    ) -> bytes:
        """Sign the package and store the file that *make* makes of it.

        Without *make* the file is a placeholder: the services do not look inside.
        """
        now = self.tick(minutes=10)
        prepared = package.prepare(
            self.session,
            person_id=by.id,
            round_id=self.round_id,
            meaning=meaning,
            password=PASSWORD,
            now=now,
        )
        placeholder = f"{meaning} by {by.name}".encode()
        pdf = make(prepared, now) if make else placeholder
        package.store_signed(
            self.session, prepared=prepared, round_id=self.round_id, pdf=pdf, now=now
        )
        return pdf

    def accept(self, by: Cast = OWNER) -> None:
        """Accept the approved package as the owner."""
        file = acceptance.file_to_accept(
            self.session, person_id=by.id, round_id=self.round_id
        )
        acceptance.accept_package(
            self.session,
            person_id=by.id,
            round_id=self.round_id,
            sha256=sha256(file.pdf).hexdigest(),
            password=PASSWORD,
            now=self.tick(hours=2),
        )

    def turn_over(
        self,
        make: Callable[[package.Prepared, datetime], bytes] | None = None,
        *,
        by: Cast = LEAD,
        accept: bool = True,
    ) -> bytes:
        """Have everybody who performed sign, approve, accept; return the last file."""
        for person in [p for p in CREW if self.gate(p).may_sign]:
            self.seal(person, "performed", make)
        pdf = self.seal(by, "approved", make)
        if accept:
            self.accept()
        return pdf


KEPT = (("bus", IR), ("breaker 52", CR), ("relay 51", RT))
Texts = Mapping[tuple[str, str], tuple[str, ...]]

# What three cards read at 30 degC, and later at 10 degC.
AT_30: Texts = {
    ("bus", IR): ("6.00", ">200", "6.20", "41", "44", "39"),
    ("breaker 52", CR): ("40.0", "39.0", "41.0"),
    ("relay 51", RT): ("no_trip", "14.02", "5.88", "2.66", "1.385"),
}
AT_10: Texts = {
    ("bus", IR): ("12.0", "150", ">200", "120", "125", "118"),
    ("breaker 52", CR): ("40.0", "36.0", "37.0"),
    ("relay 51", RT): ("no_trip", "14.02", "6.00", "2.60", "1.385"),
}


def short_round(work: Work, texts: Texts, temperature_c: float) -> Work:
    """Fill three cards at a temperature, leave the others out, turn over."""
    for label, procedure in work.cards:
        if (label, procedure) not in KEPT:
            work.withdraw(label, procedure)
    warm = {"temperature_c": temperature_c}
    more = {IR: {"test_kv": 2.5}, CR: {"test_current_a": 100}}
    for key in KEPT:
        label, procedure = key
        fields: dict[str, Any] = {}
        if procedure in more:
            fields = {"conditions": warm | more[procedure]}
        work.fill(label, procedure, *texts[key], **fields)
    work.turn_over(accept=False)
    return work


def _place(session: Session) -> None:
    build(session)


def _opened(session: Session) -> None:
    Work.begin(session)


def _earlier(session: Session) -> None:
    """A round that was begun before safety had scopes."""
    Work.begin(session, earlier_list=True)


def _confirmed(session: Session) -> None:
    Work.resume(session).confirm("bus", IR)


def _complete(session: Session) -> None:
    Work.resume(session).fill_all()


def _approved(session: Session) -> None:
    """A package with real pages and signatures, which waits for its owner."""
    Work.resume(session).turn_over(make_signed, accept=False)


def _accepted(session: Session) -> None:
    Work.resume(session).turn_over()


def _one_earlier(session: Session) -> None:
    """One card by the list, signed, on a round begun before safety had scopes."""
    Work.resume(session).fill("bus", IR)


def _accepted_earlier(session: Session) -> None:
    """As accepted, on a round that was begun before safety had scopes."""
    work = Work.resume(session)
    work.fill_all()
    work.turn_over()


def _compared(session: Session) -> None:
    """A baseline that the owner accepted, and a maintenance round 70 days later."""
    work = short_round(Work.resume(session), AT_30, 30)
    work.accept()
    at = work.at + timedelta(days=70)
    short_round(Work.begin(session, kind="maintenance", at=at), AT_10, 10)


# stage -> (the stage that it begins from, what is done on top of it)
STAGES: dict[str, tuple[str, Callable[[Session], None]]] = {
    "place": ("", _place),
    "opened": ("place", _opened),
    "earlier": ("place", _earlier),
    "confirmed": ("opened", _confirmed),
    "complete": ("confirmed", _complete),
    "approved": ("complete", _approved),
    "accepted": ("complete", _accepted),
    "one earlier": ("earlier", _one_earlier),
    "accepted earlier": ("one earlier", _accepted_earlier),
    "compared": ("confirmed", _compared),
}
