"""Move an apparatus to another cell or to the spare shelf: its readings go with it."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError, NotFoundError
from models.procedures.plates import apparatus_kinds
from models.schema import Apparatus, Card, Cell, Person, Reading, Round
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.texts import text_faults
from models.services.people.access import person_of, require, visible_sites
from models.services.setup.placements import add_placement, placements_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """What moved, where it stands now, and what became of cards of open rounds."""

    label: str
    where: str
    swapped: str  # what went the other way
    stayed: Sequence[str]  # cards that stay in the cell where they were tested


def move_apparatus(
    session: Session,
    *,
    person_id: UUID,
    apparatus_id: UUID,
    cell_id: UUID | None,
    on: date | None,
    reason: str,
    swap: bool = False,
    now: datetime,
    new_id: Callable[[], UUID],
) -> Moved:
    """Move it to a cell of its site, or without one to the spare shelf.

    *on* is the day at the site. *swap*: what stands there goes the other way.
    A card of an open round stays in the cell where its readings were taken; one
    without a reading goes along within the lineup.
    Raises InputError with every fault: a kind that cannot be taken out, a cell that is
    taken, a day to come or before it was placed last, no reason.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "set up")
    thing = thing_of(session, person, apparatus_id)
    cell = session.get(Cell, cell_id) if cell_id else None
    if cell_id and (cell is None or cell.removed or _site(cell) != thing.site_id):
        raise NotFoundError("cell of this site", cell_id)
    there = _of_its_kind(thing, cell)
    faults = [
        *_place_faults(thing, cell, there, swap=swap),
        *_day_faults(session, [thing, *([there] if there else [])], on, now),
        *text_faults("reason", reason, "why it is moved"),
    ]
    if faults or on is None:
        raise InputError(*faults)
    before = thing.cell
    _put(thing, cell, there.position if there else None)
    if there is not None:
        _put(there, before, None)
    session.flush()
    stayed = []
    for one in (thing, *([there] if there else [])):
        stayed += _take_cards_along(session, one)
        add_placement(
            session,
            one,
            from_day=on,
            reason=reason.strip(),
            by=person,
            now=now,
            new_id=new_id,
        )
        append_log(
            session,
            actor_id=person.id,
            action="move apparatus",
            subject=f"apparatus {one.id}",
            body={
                "from": str(before.id if before else None)
                if one is thing
                else str(cell_id),
                "to": str(one.cell_id),
                "on": on.isoformat(),
                "reason": reason.strip(),
            },
            now=now,
        )
    return Moved(
        label=thing.label,
        where=thing.where,
        swapped=there.label if there else "",
        stayed=stayed,
    )


def thing_of(session: Session, person: Person, apparatus_id: UUID) -> Apparatus:
    """Return the apparatus if the person may see its site; NotFoundError otherwise."""
    found = session.scalars(
        select(Apparatus).where(
            Apparatus.id == apparatus_id,
            Apparatus.removed.is_(False),
            Apparatus.site_id.in_(visible_sites(person)),
        )
    ).first()
    if found is None:
        raise NotFoundError("apparatus", apparatus_id)
    return found


def can_move(thing: Apparatus, gear: str | None = None) -> bool:
    """Return whether it can be taken out of its cell, or put into gear of a kind."""
    kind = apparatus_kinds().get(thing.kind)
    if kind is None:
        return False
    own = thing.cell.lineup.gear if thing.cell else None
    return all(kind.moves_in(one) for one in (own, gear) if one) and kind.movable


def _site(cell: Cell) -> UUID:
    return cell.lineup.site_id


def _of_its_kind(thing: Apparatus, cell: Cell | None) -> Apparatus | None:
    """Return what stands in the cell in its place."""
    held = cell.apparatus if cell else []
    return next((o for o in held if o.kind == thing.kind and o is not thing), None)


def _place_faults(
    thing: Apparatus, cell: Cell | None, there: Apparatus | None, *, swap: bool
) -> Iterator[Fault]:
    if not can_move(thing, cell.lineup.gear if cell else None):
        message = f"{thing.label} is fixed: it cannot be taken out and put elsewhere."
        yield Fault(field="cell", message=message)
    elif thing.cell is cell:
        message = f"{thing.label} stands there already: {thing.where}."
        yield Fault(field="cell", message=message)
    elif there is not None and not swap:
        message = (
            f"Cell {cell.number if cell else ''} holds {there.label}. "
            "Say that the two change places, or move that one first."
        )
        yield Fault(field="cell", message=message)


def _day_faults(
    session: Session, things: Sequence[Apparatus], on: date | None, now: datetime
) -> Iterator[Fault]:
    if on is None:
        yield Fault(field="day", message="Give the day on which it was moved.")
        return
    if on > now.astimezone(ZoneInfo(things[0].site.zone)).date():
        message = "This day is still to come. A move is entered once it is made."
        yield Fault(field="day", message=message)
    for one in things:
        last = placements_of(session, one.id)[-1].from_day
        if last is not None and on < last:
            message = f"{one.label} was placed there on {last.isoformat()} only."
            yield Fault(field="day", message=message)


def _put(thing: Apparatus, cell: Cell | None, position: int | None) -> None:
    taken = [one.position for one in cell.apparatus] if cell else []
    thing.position = max(taken, default=0) + 1 if position is None else position
    thing.cell = cell


def _take_cards_along(session: Session, thing: Apparatus) -> list[str]:
    """Move its unread cards of open rounds within the lineup; name those that stay."""
    cards = session.scalars(
        select(Card)
        .join(Card.round)
        .where(Card.apparatus_id == thing.id, Round.state == "open")
    ).all()
    read = set(
        session.scalars(
            select(Reading.card_id).where(Reading.card_id.in_([c.id for c in cards]))
        )
    )
    stayed = []
    for card in cards:
        cell = thing.cell
        if card.id not in read and cell and cell.lineup_id == card.round.lineup_id:
            card.cell = cell
        else:
            stayed.append(
                f"{card.round.title}, {card.procedure.replace('_', ' ')}: "
                f"the card stays in cell {card.cell.number}"
            )
    return stayed
