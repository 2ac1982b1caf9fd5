"""A page of a long list, and the words that somebody looks for."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from sqlalchemy import ColumnElement, and_, true

ROWS = 25  # on a page
MOST_WORDS = 6  # that are looked for

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True, kw_only=True)
class Page(Generic[Row]):
    """A part of a list: *rows* of *total*; *number* counts from 1."""

    rows: Sequence[Row]
    total: int
    number: int
    size: int = ROWS

    @property
    def last(self) -> int:
        """The number of the last page; 1 of an empty list."""
        return max(1, -(-self.total // self.size))

    @property
    def first_row(self) -> int:
        """The place of the first row in the whole list, from 1."""
        return (self.number - 1) * self.size + 1

    @property
    def last_row(self) -> int:
        """The place of the last row in the whole list."""
        return self.first_row + len(self.rows) - 1


def start_of(number: int, size: int = ROWS) -> int:
    """Return how many rows stand before page *number*; below 1 there is no page."""
    return (max(1, number) - 1) * size


def has_words(
    words: str, stands: Callable[[str], ColumnElement[bool]]
) -> ColumnElement[bool]:
    """Return the condition that each of *words* stands somewhere.

    *stands* gives it for one word; no words: every row.
    """
    return and_(true(), *map(stands, words.split()[:MOST_WORDS]))
