"""The rounds that a person may see, with how far they are: a page at a time."""

from dataclasses import dataclass, replace
from datetime import datetime
from uuid import UUID

from sqlalchemy import ColumnElement, Select, and_, case, func, or_, select
from sqlalchemy.orm import Session, contains_eager

from models.record.verdicts import count_verdicts
from models.schema import (
    Apparatus,
    Card,
    Cell,
    Deficiency,
    DeficiencyClosing,
    Lineup,
    Person,
    Reading,
    Round,
    Signature,
    Site,
)
from models.services.field.card_facts import CardFacts
from models.services.people.access import person_of, visible_rounds
from models.services.turnover.pages import ROWS, Page, has_words, start_of
from models.services.turnover.round_counts import RoundCounts, round_counts, undecided

STATES = ("open", "approved", "accepted")


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundSummary:
    """A round in a list. `mine_open` counts cards this person may still work on, `mine`
    those of them that are assigned to this person.
    """

    id: UUID
    title: str
    kind: str
    state: str
    site_id: UUID
    site_name: str
    zone: str
    lineup_id: UUID
    lineup_name: str
    gear: str
    opened_at: datetime
    cards: int
    cards_signed: int
    readings: int
    within: int
    marginal: int
    outside: int
    unjudged: int
    open_deficiencies: int
    mine_open: int
    mine: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundPage(Page[RoundSummary]):
    """A page of rounds; *open* and *over* count all that were looked for."""

    open: int
    over: int


def list_rounds(
    session: Session,
    *,
    person_id: UUID,
    words: str = "",
    state: str = "",
    site_id: UUID | None = None,
    worked_by: UUID | None = None,
    yours_first: bool = False,
    page: int = 1,
    size: int = ROWS,
) -> RoundPage:
    """Return a page of the rounds: open ones first, those with findings before all.

    *words*: each stands in the name of the site or the lineup, in a serial number,
    on an apparatus, or in the name of somebody who opened, records on or signed it;
    *state*: one of STATES, or "" for all; *site_id*: of one site; *worked_by*: on
    which this person has a card, a reading or a signature, or which they opened;
    *yours_first*: of the open ones those with cards that are assigned to this person.
    Three queries, however many rounds.
    """
    person = person_of(session, person_id)
    found = _found(person, words, state)
    if site_id is not None:
        found = found.where(Lineup.site_id == site_id)
    if worked_by is not None:
        found = found.where(_people_work((worked_by,)))
    theirs = select(Card.round_id).where(Card.assigned_to_id == person.id)
    others = (Round.state == "open") & Round.id.not_in(theirs)
    still_open = func.sum(case((Round.state == "open", 1), else_=0))
    rows = session.execute(
        found.join(Lineup.site)
        .add_columns(func.count().over(), still_open.over())
        .options(contains_eager(Round.lineup).contains_eager(Lineup.site))
        .order_by(
            (Round.state != "open"),
            *([others] if yours_first else []),
            ~_troubled(),
            Round.opened_at.desc(),
            Round.id,
        )
        .offset(start_of(page, size))
        .limit(size)
    ).all()
    if not rows and page > 1:  # beyond the end: say at least how many there are
        first = list_rounds(
            session,
            person_id=person_id,
            words=words,
            state=state,
            site_id=site_id,
            worked_by=worked_by,
            yours_first=yours_first,
            size=size,
        )
        return replace(first, rows=[], number=page)
    total, opened = (rows[0][1], rows[0][2]) if rows else (0, 0)
    counts = round_counts(session, [row.id for row, _, _ in rows], person.id)
    return RoundPage(
        rows=[_summary(row, counts[row.id]) for row, _, _ in rows],
        total=total,
        number=max(1, page),
        size=size,
        open=opened,
        over=total - opened,
    )


def summaries_of(session: Session, rounds: list[Round]) -> list[RoundSummary]:
    """Return the summaries of rounds that are read already."""
    counts = round_counts(session, [row.id for row in rounds], UUID(int=0))
    return [_summary(row, counts[row.id]) for row in rounds]


def verdict_counts(facts: list[CardFacts]) -> dict[str, int]:
    """Count the verdicts of the readings that hold."""
    return count_verdicts(r.judgement.verdict for one in facts for r in one.current)


def _summary(round_: Round, counts: RoundCounts) -> RoundSummary:
    lineup = round_.lineup
    return RoundSummary(
        id=round_.id,
        title=round_.title,
        kind=round_.kind,
        state=round_.state,
        site_id=lineup.site_id,
        site_name=lineup.site.name,
        zone=lineup.site.zone,
        lineup_id=lineup.id,
        lineup_name=lineup.name,
        gear=lineup.gear,
        opened_at=round_.opened_at,
        cards=counts.cards,
        cards_signed=counts.cards_signed,
        readings=sum(counts.verdicts.values()),
        **counts.verdicts,
        open_deficiencies=counts.open_deficiencies,
        mine_open=counts.mine_open,
        mine=counts.mine,
    )


def _found(person: Person, words: str, state: str) -> Select[Round]:
    found = visible_rounds(person).where(has_words(words, _stands))
    return found.where(Round.state == state) if state in STATES else found


def _troubled() -> ColumnElement[bool]:
    """Return whether an open round has an open deficiency or an undecided reading."""
    # Sets that are made once a query: asked for each round they cost ten times that.
    deficient = (
        select(Deficiency.round_id)
        .outerjoin(DeficiencyClosing)
        .where(DeficiencyClosing.id.is_(None))
    )
    return and_(
        Round.state == "open",
        or_(Round.id.in_(deficient), Round.id.in_(undecided(Card.round_id))),
    )


def _stands(word: str) -> ColumnElement[bool]:
    """Return whether a word stands on a round, its place or with its people."""
    named = select(Person.id).where(Person.name.icontains(word, autoescape=True))
    return or_(stands_on_lineup(word), _people_work(named))


def _people_work(people: Select[UUID] | tuple[UUID, ...]) -> ColumnElement[bool]:
    """Return whether one of *people* opened a round, or has a part in it."""
    signed = select(Card.round_id).join(Signature, Signature.card_id == Card.id)
    read = select(Card.round_id).join(Reading, Reading.card_id == Card.id)
    return or_(
        Round.opened_by_id.in_(people),
        Round.id.in_(select(Card.round_id).where(Card.assigned_to_id.in_(people))),
        Round.id.in_(signed.where(Signature.by_id.in_(people))),
        Round.id.in_(read.where(Reading.by_id.in_(people))),
    )


def stands_on_lineup(word: str) -> ColumnElement[bool]:
    """Return whether a word names the site or the lineup, or stands on its gear."""
    fitted = (
        select(Cell.lineup_id)
        .join(Apparatus)
        .where(
            or_(
                Apparatus.label.icontains(word, autoescape=True),
                Apparatus.serial.icontains(word, autoescape=True),
            )
        )
    )
    return or_(names_lineup(word), Lineup.id.in_(fitted))


def names_lineup(word: str) -> ColumnElement[bool]:
    """Return whether a word names the site or the lineup, or is its serial number."""
    site = select(Site.id).where(Site.name.icontains(word, autoescape=True))
    return or_(
        Lineup.name.icontains(word, autoescape=True),
        Lineup.serial.icontains(word, autoescape=True),
        Lineup.site_id.in_(site),
    )
