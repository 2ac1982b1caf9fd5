"""What a changed lineup may not do to what was tested, or to what stands elsewhere."""

from collections.abc import Iterable, Iterator
from uuid import UUID

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session

from models.errors import Fault
from models.record.lineup_draft import ApparatusDraft, LineupDraft
from models.schema import Apparatus, Card, Cell, Lineup, Reading, Round, Site
from models.services.setup.plate_versions import plate_of


class CardsOn:
    """Which of a lineup's cells and apparatus have cards, and which have readings."""

    def __init__(self, session: Session, cells: Iterable[Cell]) -> None:
        """Read it for *cells* and what stands in them."""
        self.cells = {cell.id: cell for cell in cells}
        things = [one.id for cell in self.cells.values() for one in cell.apparatus]
        mine = Card.apparatus_id.in_(things) | Card.cell_id.in_(self.cells)
        carded = session.execute(
            select(Card.apparatus_id, Card.cell_id).where(mine).distinct()
        ).all()
        read = session.execute(
            select(Card.apparatus_id).where(mine, _has_readings()).distinct()
        )
        self.with_cards = {thing for thing, _ in carded}
        self.cells_with_cards = {cell for _, cell in carded}
        self.with_readings = {thing for (thing,) in read}


def _has_readings() -> ColumnElement[bool]:
    return select(Reading.id).where(Reading.card_id == Card.id).exists()


def has_readings(session: Session, lineup: Lineup) -> bool:
    """Return whether anything was read on the lineup."""
    found = select(func.count(Reading.id)).join(Card).join(Round)
    return bool(session.scalar(found.where(Round.lineup_id == lineup.id)))


def removal_faults(draft: LineupDraft, tested: CardsOn) -> Iterator[Fault]:
    """Yield why what is no longer in the draft has to stay."""
    cells = {cell.id for cell in draft.cells}
    things = {one.id for _, one in draft.apparatus()}
    for cell in tested.cells.values():
        for one in cell.apparatus:
            if one.id not in things and one.id in tested.with_cards:
                yield Fault(
                    field="cells",
                    message=f"{one.label} of cell {cell.number} has cards: it cannot "
                    "be removed. Move it to the spare shelf instead.",
                )
        if cell.id not in cells and cell.id in tested.cells_with_cards:
            message = f"Cell {cell.number} has cards: it cannot be removed."
            yield Fault(field="cells", message=message)


def thing_faults(
    session: Session, site: Site, draft: LineupDraft, tested: CardsOn
) -> Iterator[Fault]:
    """Yield what is wrong with single things: of elsewhere, tested, or there twice."""
    here = {o.id: o for cell in tested.cells.values() for o in cell.apparatus}
    named = [one.id for _, one in draft.apparatus() if one.id and one.id not in here]
    other = {one.id: one for one in _things(session, named)}
    serials = _serials(session, site, here)
    for at, cell in enumerate(draft.cells):
        for number, one in enumerate(cell.apparatus):
            place = f"cells.{at}.apparatus.{number}"
            who = f"Cell {cell.number}, {one.label}"
            if one.id in other:
                message = (
                    f"{who} stands elsewhere. Move it here on its own page, "
                    "with the day and the reason."
                )
                yield Fault(field=f"{place}.id", message=message)
            if one.id in tested.with_cards and one.id in here:
                yield from _tested_faults(place, who, one, here[one.id], cell.id)
            if taken := serials.get(_key(one)):
                message = (
                    f"{who}: {taken} has the serial number {one.plate['serial']} "
                    "already. If it is the same thing, move it instead."
                )
                yield Fault(field=f"{place}.plate.serial", message=message)


def _tested_faults(
    place: str, who: str, draft: ApparatusDraft, row: Apparatus, cell_id: UUID | None
) -> Iterator[Fault]:
    if draft.kind != row.kind:
        message = f"{who} has cards: it stays what it is. Enter another one beside it."
        yield Fault(field=f"{place}.kind", message=message)
    if row.cell_id != cell_id:
        message = (
            f"{who} has cards: move it on its own page, with the day and the reason."
        )
        yield Fault(field=f"{place}.id", message=message)


def cell_faults(
    session: Session, draft: LineupDraft, tested: CardsOn
) -> Iterator[Fault]:
    """Yield the cells that belong to another lineup."""
    named = [c.id for c in draft.cells if c.id and c.id not in tested.cells]
    other = set(session.scalars(select(Cell.id).where(Cell.id.in_(named))))
    for at, cell in enumerate(draft.cells):
        if cell.id in other:
            message = f"Cell {cell.number} is no cell of this lineup any more."
            yield Fault(field=f"cells.{at}.id", message=message)


def reason_faults(
    lineup: Lineup, draft: LineupDraft, tested: CardsOn, *, read: bool
) -> Iterator[Fault]:
    """Yield whose plate changes after something was read, which wants a reason."""
    rows = {o.id: o for cell in tested.cells.values() for o in cell.apparatus}
    changed = [
        f"{one.label} of cell {cell.number}"
        for cell, one in draft.apparatus()
        if one.id in rows
        and one.id in tested.with_readings
        and plate_of(rows[one.id]) != dict(one.plate)
    ]
    if read and plate_of(lineup) != dict(draft.ratings):
        changed.insert(0, "the lineup")
    if changed:
        yield Fault(
            field="reason",
            message=f"Readings were taken on {', '.join(changed)}: say why the "
            "nameplate changes. The verdicts given stay.",
        )


def _things(session: Session, ids: list[UUID]) -> Iterable[Apparatus]:
    return session.scalars(select(Apparatus).where(Apparatus.id.in_(ids))).all()


def _key(one: ApparatusDraft | Apparatus) -> tuple[str, str, str]:
    plate = one.plate
    texts = (str(plate.get(name) or "").casefold() for name in ("maker", "serial"))
    maker, serial = texts
    return (one.kind, maker, serial) if serial else ("", "", "")


def _serials(
    session: Session, site: Site, here: Iterable[UUID]
) -> dict[tuple[str, str, str], str]:
    """Return what stands elsewhere on the site, by kind, maker and serial number."""
    rows = session.scalars(
        select(Apparatus).where(
            Apparatus.site_id == site.id,
            Apparatus.removed.is_(False),
            Apparatus.serial.is_not(None),
            Apparatus.id.not_in(list(here)),
        )
    )
    return {_key(row): f"{row.label} {where_is(row)}" for row in rows}


def where_is(row: Apparatus) -> str:
    """Return where an apparatus stands, in words."""
    if row.cell is None:
        return "on the spare shelf"
    return f"in cell {row.cell.number} of {row.cell.lineup.name}"
