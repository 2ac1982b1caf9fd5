"""The published tables for people: read them, search them, ask what applies."""

from functools import cache

from models.criteria import search
from models.criteria.loader import table_files
from models.criteria.required import Limit, Requirement, Source, required
from models.criteria.search import Hit
from models.criteria.views import (
    Cell,
    ColumnView,
    Figure,
    RowView,
    TableView,
    view,
)
from models.errors import NotFoundError

__all__ = [
    "Cell",
    "ColumnView",
    "Figure",
    "Hit",
    "Limit",
    "Requirement",
    "RowView",
    "Source",
    "TableView",
    "about",
    "find",
    "required",
    "table",
    "tables",
]


@cache
def tables() -> tuple[TableView, ...]:
    """Return every table of every edition, in the order of their titles.

    Raises CriteriaError where a file cannot be read.
    """
    newer = {s.supersedes: s.key for s in table_files().values() if s.supersedes}
    views = [
        view(table_file, newer.get(table_file.key))
        for table_file in table_files().values()
    ]
    return tuple(sorted(views, key=lambda table: (table.title.casefold(), table.key)))


def table(key: str) -> TableView:
    """Return one table; NotFoundError where there is none of that key."""
    for one in tables():
        if one.key == key:
            return one
    raise NotFoundError("criteria table", key)


def find(words: str) -> list[Hit]:
    """Return the tables and rows that hold all of *words*, whole tables first.

    Looks through titles, documents, editions, notes, heads, rows, sources and
    doubts. A word is found by its beginning, a figure as a whole.
    """
    return search.find(words, tables())


def about(apparatus: str) -> list[TableView]:
    """Return the tables that concern an apparatus, those used by default first."""
    found = [one for one in tables() if apparatus in one.applies_to]
    return sorted(found, key=lambda one: not one.default)
