"""Published tables as the core sees them: values read by models.criteria."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.errors import CriteriaError

Row = Mapping[str, Any]

# Of a column with several, the first that occurs says how the column is known.
LEAST_SURE_FIRST = ("memory", "computed", "corrected", "confirmed")


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One table of one edition; each row carries its own source and provenance.

    A row that an organisation checked has `checked`: `compared` in words, and
    `corrected` with words for each column whose figure was replaced.
    """

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

    def cite(self, row: Row, note: str | None = None) -> dict[str, Any]:
        """Return where a row comes from, as a rule carries it.

        *note* goes in the place of the row's own. Who checked the row against a
        licensed copy is said after it.
        """
        own = row.get("note", "") if note is None else note
        checked = row.get("checked")
        said = [checked["compared"], *checked["corrected"].values()] if checked else []
        return self._cite(row["row"], row["provenance"], [own, *said])

    def cite_value(self, row: Row, column: str) -> dict[str, Any]:
        """Return where one value comes from: known otherwise than its row, it says so.

        A doubt about the value, or about its whole row, stands in the note.
        """
        doubt = row.get(f"{column}_doubtful") or row.get("doubtful")
        notes = (row.get("note", ""), f"doubtful: {doubt}" if doubt else "")
        cite = self.cite(row, "; ".join(filter(None, notes)))
        return {**cite, "provenance": provenance_of(row, column)}

    def cite_column(self, column: str, note: str) -> dict[str, Any]:
        """Return where a column comes from: one recalled figure makes it recalled.

        Likewise one that was worked out, where none is recalled.
        A column that is checked in part says how many figures still are from memory.
        """
        rows = [row for row in self.rows if column in row]
        found = [provenance_of(row, column) for row in rows]
        checks = [row["checked"] for row in rows if row.get("checked")]
        said = list(dict.fromkeys(check["compared"] for check in checks))
        said += [
            f"{row['row']}: {row['checked']['corrected'][column]}"
            for row in rows
            if column in row.get("checked", {}).get("corrected", {})
        ]
        recalled = found.count("memory")
        if checks and recalled:
            said.insert(0, f"{recalled} of {len(found)} figures still from memory")
        word = next((w for w in LEAST_SURE_FIRST if w in found), "published")
        return self._cite(f"column {column}", word, [note, *said])

    def _cite(self, row: str, provenance: str, notes: Sequence[str]) -> dict[str, Any]:
        return {
            "document": self.document,
            "edition": self.edition,
            "table": self.table,
            "row": row,
            "provenance": provenance,
            "note": "; ".join(filter(None, notes)),
        }


def provenance_of(row: Row, column: str) -> str:
    """Return how a value is known: its own provenance, else that of its row."""
    return str(row.get(f"{column}_provenance") or row["provenance"])


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

# Where a limit has no published source, the trade's own way of working.
PRACTICE = {**MAKER, "document": "Common practice", "provenance": "practice"}
