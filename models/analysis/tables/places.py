"""Where a cell is, as spreadsheets say it, and how much a table may hold."""

from collections.abc import Sequence

MOST_BYTES = 8 << 20  # of the file
MOST_UNFOLDED = 64 << 20  # bytes of what is in a workbook's archive
MOST_ROWS = 5000
MOST_COLUMNS = 300
LONGEST_CELL = 2000  # characters

Cell = tuple[str, str]
Row = tuple[int, Sequence[Cell]]
BLANK: Cell = ("", "")


def letter(column: int) -> str:
    """Return the letters of a column that is counted from 0: A, Z, AA."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
