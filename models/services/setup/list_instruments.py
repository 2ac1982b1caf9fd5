"""The register as a list: what needs attention first; and one instrument as shown."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from uuid import UUID

from sqlalchemy import ColumnElement, Select, case, func, or_, select
from sqlalchemy.orm import Session, selectinload

from models.record.instrument import Range
from models.schema import Calibration, Instrument, Lineup, Person, Reading, Round, Site
from models.schema.rounds import Card
from models.services.people.access import person_of, require, visible_sites
from models.services.setup.instrument_ranges import ranges_of
from models.services.setup.instruments import instrument_of
from models.services.turnover.pages import ROWS, Page, has_words, start_of

WARN_DAYS = (30, 60)
# State, what needs attention first -> how it is said.
STATES = {
    "lapsed": "out of calibration",
    "none": "no calibration",
    "due_30": "due within 30 days",
    "due_60": "due within 60 days",
    "in_date": "in calibration",
    "retired": "retired",
}
# What the list is filtered by beside a single state.
DUE = ("lapsed", "none", "due_30", "due_60")
FILTERS = {"due": "due, or due within 60 days", **STATES}


@dataclass(frozen=True, slots=True, kw_only=True)
class InstrumentRow:
    """An instrument in the list; *state* is one of STATES.

    *days_left* until it falls due, negative once it has; None without a calibration.
    """

    id: UUID
    tag: str
    name: str
    serial: str
    maker: str
    type: str
    procedures: Sequence[str]
    due_on: date | None
    days_left: int | None
    certificate_no: str
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class UsedIn:
    """A round in which an instrument took readings, and how many."""

    round_id: UUID
    title: str
    lineup: str
    site: str
    readings: int


@dataclass(frozen=True, slots=True, kw_only=True)
class InstrumentView:
    """An instrument with all that its page shows; *used* leaves out other sites."""

    row: InstrumentRow
    ranges: Sequence[Range]
    calibrations: Sequence[Calibration]
    in_use: frozenset[UUID]  # calibrations that readings rest on
    used: Sequence[UsedIn]
    retired_on: date | None


def list_instruments(
    session: Session,
    *,
    person_id: UUID,
    today: date,
    words: str = "",
    state: str = "",
    page: int = 1,
) -> Page[InstrumentRow]:
    """Return a page of the firm's instruments, those that need attention first.

    *words*: each stands in the tag, name, serial number, maker, type or certificate;
    *state*: one of FILTERS.
    """
    found, total = _found(session, person_id, today, words, state, page)
    rows = [_row(one, today) for one in found]
    return Page(rows=rows, total=total, number=max(1, page))


def every_instrument(
    session: Session, *, person_id: UUID, today: date, words: str, state: str
) -> list[InstrumentRow]:
    """Return the whole list that a page of it is shown of."""
    found, _ = _found(session, person_id, today, words, state, None)
    return [_row(one, today) for one in found]


def instrument_view(
    session: Session, *, person_id: UUID, instrument_id: UUID, today: date
) -> InstrumentView:
    """Return one instrument of the person's firm; NotFoundError for any other."""
    person = person_of(session, person_id)
    row = instrument_of(session, person, instrument_id, doing="see instruments")
    rests = select(Reading.calibration_id).where(Reading.instrument_id == row.id)
    return InstrumentView(
        row=_row(row, today),
        ranges=ranges_of(row),
        calibrations=list(reversed(row.calibrations)),
        in_use=frozenset(i for i in session.scalars(rests.distinct()) if i),
        used=_used(session, person, row.id),
        retired_on=row.retired_on,
    )


def _found(
    session: Session,
    person_id: UUID,
    today: date,
    words: str,
    state: str,
    page: int | None,
) -> tuple[list[Instrument], int]:
    person = person_of(session, person_id)
    require(person, "see instruments")
    standing = _state(today)
    found: Select[Instrument] = (
        select(Instrument)
        .where(Instrument.organisation_id == person.organisation_id)
        .where(has_words(words, _stands))
    )
    if state in FILTERS:
        found = found.where(standing.in_(DUE if state == "due" else (state,)))
    total = session.scalar(select(func.count()).select_from(found.subquery())) or 0
    rank = case({name: at for at, name in enumerate(STATES)}, value=standing)
    found = found.order_by(rank, _due(), Instrument.tag, Instrument.id).options(
        selectinload(Instrument.calibrations), selectinload(Instrument.ranges)
    )
    if page is not None:
        found = found.offset(start_of(page)).limit(ROWS)
    return list(session.scalars(found)), total


def _due() -> ColumnElement[date]:
    newest = select(func.max(Calibration.due_on))
    return newest.where(Calibration.instrument_id == Instrument.id).scalar_subquery()


def _state(today: date) -> ColumnElement[str]:
    soon, later = (today + timedelta(days=days) for days in WARN_DAYS)
    return case(
        (Instrument.retired_on.is_not(None), "retired"),
        (_due().is_(None), "none"),
        (_due() < today, "lapsed"),
        (_due() <= soon, "due_30"),
        (_due() <= later, "due_60"),
        else_="in_date",
    )


def state_on(instrument: Instrument, today: date) -> str:
    """Return the state of an instrument on a day, one of STATES."""
    if instrument.retired_on is not None:
        return "retired"
    due = max((one.due_on for one in instrument.calibrations), default=None)
    if due is None:
        return "none"
    if due < today:
        return "lapsed"
    left = (due - today).days
    near = next((days for days in WARN_DAYS if left <= days), None)
    return f"due_{near}" if near else "in_date"


def _row(one: Instrument, today: date) -> InstrumentRow:
    last = max(one.calibrations, key=lambda c: c.due_on, default=None)
    return InstrumentRow(
        id=one.id,
        tag=one.tag,
        name=one.name,
        serial=one.serial,
        maker=one.maker or "",
        type=one.type or "",
        procedures=one.procedures,
        due_on=last.due_on if last else None,
        days_left=(last.due_on - today).days if last else None,
        certificate_no=last.certificate_no if last else "",
        state=state_on(one, today),
    )


def _stands(word: str) -> ColumnElement[bool]:
    certificates = select(Calibration.instrument_id).where(
        Calibration.certificate_no.icontains(word, autoescape=True)
    )
    texts = (
        *(Instrument.tag, Instrument.name, Instrument.serial),
        *(Instrument.maker, Instrument.type),
    )
    stands = (text.icontains(word, autoescape=True) for text in texts)
    return or_(*stands, Instrument.id.in_(certificates))


def _used(session: Session, person: Person, instrument_id: UUID) -> list[UsedIn]:
    rows = session.execute(
        select(Round, Lineup.name, Site.name, func.count(Reading.id))
        .join(Card, Card.round_id == Round.id)
        .join(Reading, Reading.card_id == Card.id)
        .join(Lineup, Lineup.id == Round.lineup_id)
        .join(Site, Site.id == Lineup.site_id)
        .where(Reading.instrument_id == instrument_id)
        .where(Site.id.in_(visible_sites(person)))
        .group_by(Round.id, Lineup.name, Site.name)
        .order_by(Round.opened_at.desc())
        .limit(ROWS)
    )
    return [
        UsedIn(
            round_id=one.id, title=one.title, lineup=lineup, site=site, readings=count
        )
        for one, lineup, site, count in rows
    ]
