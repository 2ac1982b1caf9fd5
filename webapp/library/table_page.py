"""A table as its page shows it: every value with where it comes from."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from models.criteria.library import Cell, ColumnView, RowView, TableView
from models.judging.rules import PROVENANCE_WORDS
from webapp.library.figures import TIE, Value, value_words

RECALLED = "memory"
CHECKED = ("confirmed", "corrected")

Origin = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One value: its words, and what a reader must see at it.

    *checked* is confirmed or corrected; blank where no copy was looked at.
    """

    words: str
    number: bool
    recalled: bool
    doubtful: bool
    checked: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One row.

    *sources* are (origins, source), an origin (the columns or blank, provenance in
    words); *doubts* are (the column or blank, why).
    """

    name: str
    doubtful: bool
    cells: Sequence[Shown]
    sources: Sequence[tuple[Sequence[Origin], str]]
    doubts: Sequence[tuple[str, str]]
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TablePage:
    """Heads are (label, unit, whether numbers stand below)."""

    heads: Sequence[tuple[str, str, bool]]
    lines: Sequence[Line]

    @property
    def recalled(self) -> bool:
        """Whether a value is marked as from memory."""
        return any(cell.recalled for line in self.lines for cell in line.cells)

    @property
    def checked(self) -> bool:
        """Whether a value was compared with a licensed copy."""
        return any(cell.checked for line in self.lines for cell in line.cells)

    @property
    def doubtful(self) -> bool:
        """Whether a value or a row is marked as doubtful."""
        return any(line.doubts for line in self.lines)


def table_page(table: TableView) -> TablePage:
    """Return *table* for its page; a column that repeats the row's name is left out."""
    kept = [
        n
        for n in range(len(table.columns))
        if any(_value(row, n) not in (None, row.name) for row in table.rows)
    ]
    return TablePage(
        heads=[
            (table.columns[n].label, table.columns[n].unit, _numeric(table, n))
            for n in kept
        ],
        lines=[_line(table.columns, row, kept) for row in table.rows],
    )


def count_words(counts: Mapping[str, int]) -> list[tuple[str, str]]:
    """Return (provenance, how many figures are of it) in the order of the words."""
    return [
        (word, f"{counts[word]} {PROVENANCE_WORDS[word]}")
        for word in PROVENANCE_WORDS
        if counts.get(word)
    ]


def _value(row: RowView, n: int) -> Value | None:
    cell = row.cells[n]
    return None if cell is None else cell.value


def _numeric(table: TableView, n: int) -> bool:
    values = [_value(row, n) for row in table.rows]
    return all(
        isinstance(v, int | float) and not isinstance(v, bool)
        for v in values
        if v is not None
    )


def _line(columns: Sequence[ColumnView], row: RowView, kept: Sequence[int]) -> Line:
    doubts = [("", row.doubtful)] if row.doubtful else []
    doubts += [
        (column.label, cell.doubtful)
        for column, cell in zip(columns, row.cells, strict=True)
        if cell is not None and cell.doubtful not in ("", row.doubtful)
    ]
    said = {why for _, why in doubts}
    return Line(
        name=row.name,
        doubtful=bool(row.doubtful),
        cells=[_shown(columns[n], row, n) for n in kept],
        sources=_sources(columns, row),
        doubts=doubts,
        note="" if row.note in said else row.note,
    )


def _shown(column: ColumnView, row: RowView, n: int) -> Shown:
    cell = row.cells[n]
    if cell is None:
        return Shown(words="–", number=True, recalled=False, doubtful=False)
    number = not isinstance(cell.value, str | bool)
    own_unit = cell.unit if cell.unit != column.unit else ""
    return Shown(
        words=f"{value_words(cell.value)}{TIE if own_unit else ''}{own_unit}",
        number=number,
        recalled=_says(column, cell, row) and cell.provenance == RECALLED,
        doubtful=cell.doubtful not in ("", row.doubtful),
        checked=cell.provenance
        if _says(column, cell, row) and cell.provenance in CHECKED
        else "",
    )


def _says(column: ColumnView, cell: Cell, row: RowView) -> bool:
    """Whether a value says something of the row, or names it on another's word."""
    own = (cell.provenance, cell.doubtful) != (row.provenance, row.doubtful)
    return own or not column.identifies


def _sources(
    columns: Sequence[ColumnView], row: RowView
) -> list[tuple[list[Origin], str]]:
    """Return each source of the row's values with what of them is how known."""
    found: dict[str, dict[str, list[str]]] = {}
    for column, cell in zip(columns, row.cells, strict=True):
        if cell is not None and _says(column, cell, row):
            origins = found.setdefault(cell.source, {})
            origins.setdefault(cell.provenance, []).append(column.label)
    if not found:
        found = {row.source: {row.provenance: []}}
    several = len(found) > 1 or any(len(origins) > 1 for origins in found.values())
    return [
        (
            [
                (", ".join(labels) if several else "", PROVENANCE_WORDS[provenance])
                for provenance, labels in origins.items()
            ],
            # "from memory" is said once, by the provenance
            "" if source == "from memory" else source,
        )
        for source, origins in found.items()
    ]
