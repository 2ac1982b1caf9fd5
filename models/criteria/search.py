"""Find tables and rows by words."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from models.criteria.views import RowView, TableView

# A word of a text: letters, or a figure with its point.
WORD = re.compile(r"[0-9]+(?:[.,][0-9]+)*|[^\W\d_]+|[0-9.]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """A table, or one row of it, that holds every word looked for."""

    table: TableView
    row: RowView | None  # None: the head of the table holds the words


def find(words: str, tables: Sequence[TableView]) -> list[Hit]:
    """Return the tables and rows that hold all of *words*, tables first.

    A word is found at the beginning of a word of the text, a figure as a whole;
    capitals count for nothing. Nothing to look for: nothing is found.
    """
    wanted = split(words)
    if not wanted:
        return []
    hits = [hit for table in tables for hit in _in_table(wanted, table)]
    return sorted(hits, key=lambda hit: hit.row is not None)


def split(text: str) -> list[str]:
    """Return the words of *text* as they are compared."""
    return [word.replace(",", ".") for word in WORD.findall(text.casefold())]


def _in_table(wanted: Sequence[str], table: TableView) -> Iterator[Hit]:
    head = set(split(_head(table)))
    missing = [one for one in wanted if not _holds(head, [one])]
    if not missing:
        yield Hit(table=table, row=None)
        return
    for row in table.rows:
        if _holds(set(split(_text(row))), missing):
            yield Hit(table=table, row=row)


def _holds(text: set[str], wanted: Sequence[str]) -> bool:
    return all(any(_is(word, one) for word in text) for one in wanted)


def _is(word: str, wanted: str) -> bool:
    return word == wanted if wanted[0].isdigit() else word.startswith(wanted)


def _head(table: TableView) -> str:
    labels = [column.label for column in table.columns]
    about = [subject.replace("_", " ") for subject in table.applies_to]
    parts = (table.title, table.document, table.edition, table.table, table.quantity)
    return " ".join([*parts, table.note, *labels, *about])


def _text(row: RowView) -> str:
    cells = [
        " ".join((cell.text, cell.unit, cell.source, cell.doubtful))
        for cell in row.cells
        if cell
    ]
    return " ".join([row.name, row.source, row.doubtful, row.note, *cells])
