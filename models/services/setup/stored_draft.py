"""A stored lineup as a draft: what an editor, an export and a copy begin from."""

from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models.record.lineup_draft import (
    ApparatusDraft,
    CellDraft,
    LineupDraft,
    SectionDraft,
)
from models.schema import Cell, Lineup
from models.services.people.access import lineup_of, person_of
from models.services.setup.nameplate import lineup_plate


def lineup_draft_of(
    session: Session, person_id: UUID, lineup_id: UUID
) -> tuple[LineupDraft, int]:
    """Return the lineup as a draft, and its version: how often it was saved.

    Raises NotFoundError for one that the person may not see.
    """
    lineup = lineup_of(session, person_of(session, person_id), lineup_id)
    return stored_draft(session, lineup), lineup.saved


def stored_draft(session: Session, lineup: Lineup) -> LineupDraft:
    """Return *lineup* as a draft, with the ids of its cells and apparatus."""
    return LineupDraft(
        name=lineup.name,
        gear=lineup.gear,
        ratings=lineup_plate(lineup),
        sections=[
            SectionDraft(name=one.name, rated_a=one.rated_a) for one in lineup.sections
        ],
        cells=[_cell(cell) for cell in stored_cells(session, lineup.id)],
    )


def stored_cells(session: Session, lineup_id: UUID) -> list[Cell]:
    """Return the lineup's cells from the left, with what is in them."""
    return list(
        session.scalars(
            select(Cell)
            .where(Cell.lineup_id == lineup_id, Cell.removed.is_(False))
            .options(selectinload(Cell.apparatus))
            .order_by(Cell.position)
        )
    )


def _cell(cell: Cell) -> CellDraft:
    return CellDraft(
        id=cell.id,
        number=cell.number,
        name=cell.name,
        kind=cell.kind,
        bus=cell.bus,
        tie_to=cell.tie_to,
        apparatus=[
            ApparatusDraft(id=one.id, kind=one.kind, label=one.label, plate=one.plate)
            for one in cell.apparatus
        ],
    )
