"""A lineup as it is entered: sections, cells, and the apparatus in them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionDraft:
    """One section of the bus with its rated current in A."""

    name: str
    rated_a: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ApparatusDraft:
    """One thing in a cell; *id* is None while it is not stored yet.

    *plate* holds what the nameplate says, by the names and in the units of the table
    of fields; what is not known is left out.
    """

    kind: str
    label: str
    id: UUID | None = None
    plate: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class CellDraft:
    """One cell: what it is drawn with, its section, and another one that it ties to."""

    number: str
    name: str
    kind: str
    bus: str
    id: UUID | None = None
    tie_to: str | None = None
    apparatus: Sequence[ApparatusDraft] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LineupDraft:
    """A whole lineup; the cells stand in their order from the left."""

    name: str
    gear: str
    ratings: Mapping[str, Any] = field(default_factory=dict)
    sections: Sequence[SectionDraft] = ()
    cells: Sequence[CellDraft] = ()

    def apparatus(self) -> Iterator[tuple[CellDraft, ApparatusDraft]]:
        """Yield every apparatus with its cell, from the left."""
        for cell in self.cells:
            for one in cell.apparatus:
                yield cell, one


def draft_json(draft: LineupDraft) -> dict[str, Any]:
    """Return the draft as plain JSON: what `read_draft` reads."""
    return {
        "name": draft.name,
        "gear": draft.gear,
        "ratings": dict(draft.ratings),
        "sections": [
            {"name": one.name, "rated_a": one.rated_a} for one in draft.sections
        ],
        "cells": [_cell_json(cell) for cell in draft.cells],
    }


def _cell_json(cell: CellDraft) -> dict[str, Any]:
    return {
        "id": _id_json(cell.id),
        "number": cell.number,
        "name": cell.name,
        "kind": cell.kind,
        "bus": cell.bus,
        "tie_to": cell.tie_to,
        "apparatus": [
            {
                "id": _id_json(one.id),
                "kind": one.kind,
                "label": one.label,
                "plate": dict(one.plate),
            }
            for one in cell.apparatus
        ],
    }


def _id_json(identifier: UUID | None) -> str | None:
    return None if identifier is None else str(identifier)
