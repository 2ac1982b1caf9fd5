"""A published table as people read it: heads, figures said, and where each is from."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from models.criteria.table_file import NUMBER, TEXT, Column, Row, TableFile, of_value
from models.criteria.units import MIXED, SAID
from models.judging.wording import plain


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnView:
    """The head of a column; *unit* as people write it, empty where rows differ."""

    name: str
    label: str
    unit: str
    identifies: bool  # it names the row instead of saying something of it


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One value: as it is, as it is said, and where it comes from.

    *doubtful* is why the value is doubted, empty where nobody does.
    """

    value: float | str | bool
    text: str
    unit: str
    provenance: str
    source: str
    doubtful: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RowView:
    """A row; a cell is None where the document prints nothing."""

    name: str
    cells: Sequence[Cell | None]
    provenance: str
    source: str
    doubtful: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure of a table, or a row that states something without a figure.

    *said* is the value with its unit; *column* and *said* are empty for a
    statement.
    """

    row: str
    column: str
    said: str
    provenance: str
    source: str
    doubtful: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TableView:
    """One table of one edition.

    *reference_c* in degC; *default*: used where nobody chooses an edition;
    *supersedes* and *superseded_by* are keys of older and newer prints, *sibling*
    keys of other statements of the same thing; *counts* figures by provenance.
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
    reference_c: float | None
    supersedes: str | None
    superseded_by: str | None
    sibling: Sequence[str]
    columns: Sequence[ColumnView]
    rows: Sequence[RowView]
    counts: Mapping[str, int]

    def figures(self) -> Iterator[Figure]:
        """Yield every figure, row by row."""
        for row in self.rows:
            yield from figures_of(row, self.columns)

    def doubts(self) -> list[Figure]:
        """Return the figures that are doubted."""
        return [figure for figure in self.figures() if figure.doubtful]

    def cited_as(self) -> str:
        """Return document, edition and table in a line."""
        edition = f"{self.document} ({self.edition})" if self.edition else self.document
        return f"{edition}, {self.table}" if self.table else edition


def view(table_file: TableFile, superseded_by: str | None = None) -> TableView:
    """Return *table_file* for people; *superseded_by* is the key of a newer print."""
    columns = tuple(_column(table_file, column) for column in table_file.columns)
    rows = tuple(_row(table_file, row) for row in table_file.rows)
    counted = Counter(f.provenance for row in rows for f in figures_of(row, columns))
    return TableView(
        key=table_file.key,
        title=table_file.title,
        document=table_file.document,
        edition=table_file.edition,
        table=table_file.table,
        quantity=table_file.quantity,
        unit=SAID.get(table_file.unit, ""),
        note=table_file.note.strip(),
        default=table_file.default,
        applies_to=table_file.applies_to,
        reference_c=table_file.reference_c,
        supersedes=table_file.supersedes,
        superseded_by=superseded_by,
        sibling=table_file.sibling,
        columns=columns,
        rows=rows,
        counts=dict(counted),
    )


def figures_of(row: RowView, columns: Sequence[ColumnView]) -> list[Figure]:
    """Return the figures of a row; a row without any is one statement."""
    found = [
        Figure(
            row=row.name,
            column=column.label,
            said=f"{cell.text} {cell.unit}".strip(),
            provenance=cell.provenance,
            source=cell.source,
            doubtful=cell.doubtful,
        )
        for column, cell in zip(columns, row.cells, strict=True)
        if cell is not None and (not column.identifies or _own(cell, row))
    ]
    if found:
        return found
    return [
        Figure(
            row=row.name,
            column="",
            said="",
            provenance=row.provenance,
            source=row.source,
            doubtful=row.doubtful,
        )
    ]


def _own(cell: Cell, row: RowView) -> bool:
    """A rating or a name counts as a figure only where it is another's word."""
    return (cell.provenance, cell.doubtful) != (row.provenance, row.doubtful)


def _column(table_file: TableFile, column: Column) -> ColumnView:
    return ColumnView(
        name=column.name,
        label=column.label,
        unit=SAID.get(column.unit, ""),
        identifies=table_file.identifies(column),
    )


def _row(table_file: TableFile, row: Row) -> RowView:
    return RowView(
        name=row["row"],
        cells=tuple(_cell(column, row) for column in table_file.columns),
        provenance=row["provenance"],
        source=row["source"],
        doubtful=row.get("doubtful", ""),
        note=row.get("note", ""),
    )


def _cell(column: Column, row: Row) -> Cell | None:
    value = row.get(column.name)
    if value is None:
        return None
    unit = row["unit"] if column.unit == MIXED else column.unit
    return Cell(
        value=value,
        text=_said(column.kind, value=value),
        unit=SAID.get(unit, "") if column.kind == NUMBER else "",
        provenance=of_value(row, column.name, "provenance"),
        source=of_value(row, column.name, "source"),
        doubtful=of_value(row, column.name, "doubtful"),
    )


def _said(kind: str, *, value: float | str | bool) -> str:
    if kind == TEXT:
        return str(value)
    if kind == NUMBER:
        return plain(float(value)).replace("-", "−")
    return "yes" if value else "no"
