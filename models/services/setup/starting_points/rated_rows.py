"""The rows of the published tables that a lineup can be rated by."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from models.criteria import library
from models.criteria.views import Cell, RowView, TableView
from models.services.setup.starting_points.points import table_of

IEC = (
    "rated_iec"  # beside the table of the gear: which of them holds, the contract says
)
# In the tables: name of the column -> other values of it in the same row.
ALSO = {"withstand_kv": "withstand_high_kv", "impulse_kv": "impulse_high_kv"}
MEMORY = "memory"


@dataclass(frozen=True, slots=True, kw_only=True)
class RatedRow:
    """Voltages in kV that belong together; *key* names the row among all.

    *recalled*: a figure of it is from memory and was not read in a print.
    """

    key: str
    document: str
    rated_kv: float
    rated_withstand_kv: float
    rated_impulse_kv: float
    source: str
    recalled: bool

    @property
    def words(self) -> str:
        """The row as it is offered."""
        return (
            f"{self.rated_kv:g} kV, {self.rated_impulse_kv:g} kV impulse, "
            f"{self.rated_withstand_kv:g} kV power frequency"
        )


@cache
def rated_rows(gear: str) -> Sequence[RatedRow]:
    """Return the rows for such *gear*, those of its own table first."""
    tables = (library.table(table_of(gear)), library.table(IEC))
    return [row for table in tables for row in _rows(table)]


def _rows(table: TableView) -> Iterator[RatedRow]:
    for row in table.rows:
        cells = _cells(table, row)
        rated = cells.get("rated_kv")
        for withstand in _either(cells, "withstand_kv"):
            for impulse in _either(cells, "impulse_kv"):
                if rated:
                    yield _row(table, rated, withstand, impulse)


def _cells(table: TableView, row: RowView) -> dict[str, Cell]:
    pairs = zip(table.columns, row.cells, strict=True)
    return {column.name: cell for column, cell in pairs if cell is not None}


def _either(cells: dict[str, Cell], name: str) -> list[Cell]:
    return [cells[one] for one in (name, ALSO[name]) if one in cells]


def _row(table: TableView, *cells: Cell) -> RatedRow:
    rated, withstand, impulse = (float(cell.value) for cell in cells)
    return RatedRow(
        key=f"{table.key}:{rated:g}:{withstand:g}:{impulse:g}",
        document=table.document,
        rated_kv=rated,
        rated_withstand_kv=withstand,
        rated_impulse_kv=impulse,
        source="; ".join(dict.fromkeys(cell.source for cell in cells)),
        recalled=any(cell.provenance == MEMORY for cell in cells),
    )
