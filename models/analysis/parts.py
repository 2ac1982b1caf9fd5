"""A readings file in parts: some thousand rows at a time, a column a sequence.

Whatever the file's format is, its source gives the same: a header that is known to
be right, and parts whose cells are texts as they were typed.
"""

import sys
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple, Protocol

from models.analysis.readings_file import COLUMNS, MOST_UNKNOWN, REQUIRED
from models.errors import Fault, InputError

ROWS = 32768  # of a part; enough for numpy to be quick, and few enough for memory
ROWS_IN_WORDS = 4096  # where every row is put into words, of some kilobytes each
Cells = Mapping[str, Sequence[str]]


class Misplaced(NamedTuple):
    """A fault, and the row of the file that it is in, for the order they are said."""

    row: int
    rank: int
    fault: Fault


class Part(NamedTuple):
    """Rows that follow each other; *places* are theirs in the file, for people.

    *faults* are of rows that could not be split into cells at all.
    """

    places: Sequence[Any]
    cells: Cells
    faults: Sequence[Misplaced] = ()


class Source(Protocol):
    """A readings file of any format that was opened."""

    word: str  # what a place is called: line, row
    header: list[str]

    def parts(self) -> Iterator[Part]:
        """Yield the rows; what cannot be read ends them with a fault."""


def header_of(cells: Sequence[str], word: str) -> list[str]:
    """Return the columns' names; InputError with all that is wrong with them."""
    # Interned, a name is found in a row's cells by identity.
    names = [sys.intern(cell.strip()) for cell in cells]
    faults = _unknown([n for n in dict.fromkeys(names) if n not in COLUMNS], word)
    faults.extend(
        Fault(field=f"{word} 1, column {name}", message="given more than once.")
        for name in dict.fromkeys(names)
        if name in COLUMNS and names.count(name) > 1
    )
    faults.extend(
        Fault(field=f"{word} 1, column {name}", message="this column is missing.")
        for name in REQUIRED
        if name not in names
    )
    if faults:
        raise InputError(*faults)
    return names


def _unknown(names: list[str], word: str) -> list[Fault]:
    """Return a fault for each unknown column; of a file of another kind, the first."""
    known = f"unknown column; known are {', '.join(COLUMNS)}."
    faults = [
        Fault(field=f"{word} 1, column {name or '(blank)'}", message=known)
        for name in names[:MOST_UNKNOWN]
    ]
    if len(names) > MOST_UNKNOWN:
        message = f"{len(names) - MOST_UNKNOWN} further columns are unknown."
        faults.append(Fault(field=f"{word} 1", message=message))
    return faults


def whole_file(message: str, place: str = "line 1") -> InputError:
    """Return the error for a file that is of another kind altogether."""
    return InputError(Fault(field=place, message=message))
