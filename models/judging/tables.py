"""Published tables as the core sees them: values read by models.criteria."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.errors import CriteriaError

Row = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One table of one edition; each row carries its own source and provenance."""

    key: str
    document: str
    edition: str
    table: str
    unit: str
    rows: Sequence[Row]

    def find(self, fits: Callable[[Row], bool]) -> Row | None:
        """Return the first row that fits; None: the document has no such row."""
        for row in self.rows:
            if fits(row):
                return row
        return None

    def cite(self, row: Row) -> dict[str, Any]:
        """Return where a row comes from, as a rule carries it."""
        return {
            "document": self.document,
            "edition": self.edition,
            "table": self.table,
            "row": row["row"],
            "provenance": row["provenance"],
            "note": row.get("note", ""),
        }


@dataclass(frozen=True, slots=True)
class Criteria:
    """Every table by key, and which edition is used where several exist."""

    tables: Mapping[str, Table]

    def table(self, key: str) -> Table:
        """Return the table; CriteriaError when the installation lacks it."""
        try:
            return self.tables[key]
        except KeyError as error:
            raise CriteriaError(f"the criteria table '{key}' is missing") from error


MAKER = {
    "document": "Maker's data for this apparatus",
    "edition": "",
    "table": "",
    "row": "",
    "provenance": "maker",
    "note": "",
}
