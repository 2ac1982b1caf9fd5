"""Where a cell is, as spreadsheets say it, and how much a table may hold."""

import unicodedata
from collections.abc import Sequence

MOST_BYTES = 4 << 20  # of the file
MOST_UNFOLDED = 64 << 20  # bytes of what is in a workbook's archive
MOST_ROWS = 5000
MOST_COLUMNS = 300
LONGEST_CELL = 2000  # characters

Cell = tuple[str, str]
Row = tuple[int, Sequence[Cell]]
BLANK: Cell = ("", "")
KEPT = "\t\n\r"  # control characters that a text may hold


def checked(text: str) -> Cell:
    """Return a text as a cell, with what is wrong with it."""
    if len(text) > LONGEST_CELL:
        return text[:LONGEST_CELL], f"holds more than {LONGEST_CELL} characters."
    if any(unicodedata.category(c) in ("Cc", "Cs") and c not in KEPT for c in text):
        return "", "holds a character that cannot be printed: type the text again."
    return text, ""


def letter(column: int) -> str:
    """Return the letters of a column that is counted from 0: A, Z, AA."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
