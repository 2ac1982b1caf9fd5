"""The labels of a lineup: one for each cell, one for each apparatus in it."""

from uuid import UUID

from sqlalchemy.orm import Session

from models.record.labels import Label, LineupLabels
from models.schema import Apparatus, Cell
from models.services.people.access import lineup_of, person_of


def lineup_labels(
    session: Session, *, person_id: UUID, lineup_id: UUID
) -> LineupLabels:
    """Return the labels; NotFoundError when the lineup is not theirs to see."""
    lineup = lineup_of(session, person_of(session, person_id), lineup_id)
    where = f"{lineup.site.name} · {lineup.name}"
    labels = []
    for cell in lineup.cells:
        labels.append(_of_cell(cell, where))
        labels += [
            _of_apparatus(one, cell, where) for one in cell.apparatus if not one.removed
        ]
    return LineupLabels(
        site_name=lineup.site.name, lineup_name=lineup.name, labels=tuple(labels)
    )


def _of_cell(cell: Cell, where: str) -> Label:
    return Label(
        thing_id=cell.id,
        head=f"Cell {cell.number}",
        lines=(cell.name, cell.bus_label, where),
    )


def _of_apparatus(row: Apparatus, cell: Cell, where: str) -> Label:
    serial = f"serial number {row.serial}" if row.serial else "no serial number"
    return Label(
        thing_id=row.id, head=row.label, lines=(serial, f"Cell {cell.number}", where)
    )
