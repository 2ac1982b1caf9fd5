"""A published table as its file holds it: a head, columns, and rows with sources."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.judging import Table

Row = Mapping[str, Any]

NUMBER, TEXT, YES = "number", "text", "yes"
KINDS = (NUMBER, TEXT, YES)

# A value that differs from its row in one of these says so under its own name:
# `solid_provenance`, `ac_kv_doubtful`.
OF_A_VALUE = ("provenance", "source", "doubtful")
OF_A_ROW = ("row", "provenance", "source", "note", "doubtful", "unit")

# What a table may be about: the apparatus of a lineup, and what is joined to it.
SUBJECTS = (
    "bus",
    "breaker",
    "switch",
    "fused_switch",
    "three_position_switch",
    "earthing_switch",
    "fuse",
    "contactor",
    "relay",
    "cpt",
    "ct",
    "vt",
    "arrester",
    "cable",
    "gas_tank",
    "sensor",
    "transformer",
    "machine",
    "control_wiring",
    "ground",
    "joint",
    "charger",
    "battery",
    "meter",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: how it is headed, its unit, and what stands in it."""

    name: str
    label: str
    unit: str
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TableFile:
    """One table of one edition.

    *reference_c* is the temperature in degC to which its values belong, *order*
    the column by which rows ascend (within *group* where there is one),
    *supersedes* the key of an older print, *sibling* the keys of other statements
    of the same thing; *default* marks the one that is used where nobody chooses.
    """

    key: str
    title: str
    document: str
    edition: str
    table: str
    quantity: str
    unit: str
    note: str
    default: bool
    applies_to: Sequence[str]
    columns: Sequence[Column]
    rows: Sequence[Row]
    reference_c: float | None = None
    order: str | None = None
    group: str | None = None
    supersedes: str | None = None
    sibling: Sequence[str] = ()

    def as_table(self) -> Table:
        """Return what the judging core sees of it."""
        return Table(
            key=self.key,
            document=self.document,
            edition=self.edition,
            table=self.table,
            unit=self.unit,
            rows=self.rows,
        )

    def identifies(self, column: Column) -> bool:
        """Return whether *column* names the row instead of saying something of it."""
        return column.kind != NUMBER or column.name in (self.order, self.group)


def of_value(row: Row, column: str, what: str) -> str:
    """Return a value's own provenance, source or doubt; else that of its row."""
    return str(row.get(f"{column}_{what}") or row.get(what) or "")
