"""Write a draft, once it was found good, to the rows of a lineup."""

from collections.abc import Callable, Mapping
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.record.lineup_draft import ApparatusDraft, CellDraft, LineupDraft
from models.schema import (
    Apparatus,
    BusSection,
    Cell,
    Lineup,
    NameplateVersion,
    Person,
    Site,
)
from models.services.setup.placements import add_placement
from models.services.setup.plate_versions import add_version, plate_of, set_plate
from models.services.setup.stored_draft import stored_cells


class Writing:
    """One act of entering or changing a lineup."""

    def __init__(
        self,
        session: Session,
        *,
        by: Person,
        reason: str,
        now: datetime,
        new_id: Callable[[], UUID],
    ) -> None:
        """Say who writes, when and why."""
        self.session, self.by, self.reason = session, by, reason
        self.now, self.new_id = now, new_id

    def write(self, site: Site, lineup: Lineup | None, draft: LineupDraft) -> Lineup:
        """Make the rows what the draft says; it is not checked here."""
        if lineup is None:
            lineup = Lineup(id=self.new_id(), site_id=site.id, saved=0)
            self.session.add(lineup)
        before = plate_of(lineup) if lineup.saved else None
        lineup.name, lineup.gear = draft.name, draft.gear
        lineup.saved += 1
        set_plate(lineup, draft.ratings)
        self.session.flush()
        if before != plate_of(lineup):
            self._version(lineup, first=before is None)
        self._write_sections(lineup, draft)
        self._write_cells(site, lineup, draft)
        self.session.flush()
        self.session.expire(lineup)
        return lineup

    def _write_sections(self, lineup: Lineup, draft: LineupDraft) -> None:
        there = {one.name: one for one in lineup.sections}
        for position, section in enumerate(draft.sections, start=1):
            row = there.pop(section.name, None)
            if row is None:
                row = BusSection(
                    id=self.new_id(), lineup_id=lineup.id, name=section.name
                )
                self.session.add(row)
            row.position, row.rated_a = position, section.rated_a
        for row in there.values():
            self.session.delete(row)

    def _write_cells(self, site: Site, lineup: Lineup, draft: LineupDraft) -> None:
        cells = {cell.id: cell for cell in stored_cells(self.session, lineup.id)}
        things = {o.id: o for cell in cells.values() for o in cell.apparatus}
        rows = [
            self._cell(lineup, cells, position, cell)
            for position, cell in enumerate(draft.cells, start=1)
        ]
        for row, cell in zip(rows, draft.cells, strict=True):
            for position, one in enumerate(cell.apparatus, start=1):
                self._apparatus(site, row, things, position, one)
        for thing in things.values():
            self._take_out(thing)
        for gone in cells.values():
            gone.removed = True

    def _cell(
        self,
        lineup: Lineup,
        there: dict[UUID, Cell],
        position: int,
        draft: CellDraft,
    ) -> Cell:
        row = there.pop(draft.id, None) if draft.id else None
        if row is None:
            row = Cell(id=draft.id or self.new_id(), lineup_id=lineup.id)
            self.session.add(row)
        row.position, row.number, row.name = position, draft.number, draft.name
        row.kind, row.bus, row.tie_to = draft.kind, draft.bus, draft.tie_to
        return row

    def _apparatus(
        self,
        site: Site,
        cell: Cell,
        there: dict[UUID, Apparatus],
        position: int,
        draft: ApparatusDraft,
    ) -> None:
        row = there.pop(draft.id, None) if draft.id else None
        before: Mapping[str, object] | None = None if row is None else plate_of(row)
        if row is None:
            row = Apparatus(id=draft.id or self.new_id(), site_id=site.id)
            self.session.add(row)
        moved = row.cell_id != cell.id
        first = before is None
        row.cell_id, row.position = cell.id, position
        row.kind, row.label = draft.kind, draft.label
        set_plate(row, draft.plate)
        if before != plate_of(row):
            self._version(row, first=first)
        if moved:
            reason = "" if first else "entered in another cell first"
            self._place(row, reason, first=first)

    def _take_out(self, thing: Apparatus) -> None:
        thing.cell_id, thing.position, thing.removed = None, 0, True
        self._place(thing, "removed from the lineup before it was tested")

    def _version(self, subject: Apparatus | Lineup, *, first: bool) -> NameplateVersion:
        return add_version(
            self.session,
            subject,
            reason=self.reason,
            by=self.by,
            now=self.now,
            new_id=self.new_id,
            first=first,
        )

    def _place(self, row: Apparatus, reason: str, *, first: bool = False) -> None:
        add_placement(
            self.session,
            row,
            from_day=None,
            reason=reason,
            by=self.by,
            now=self.now,
            new_id=self.new_id,
            first=first,
        )
