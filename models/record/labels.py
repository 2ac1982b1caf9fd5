"""What stands on the labels of a lineup."""

from dataclasses import dataclass
from uuid import UUID


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One label; *thing_id* is the cell or the apparatus that it opens."""

    thing_id: UUID
    head: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineupLabels:
    """The labels of a lineup, cell by cell from the left."""

    site_name: str
    lineup_name: str
    labels: tuple[Label, ...]
