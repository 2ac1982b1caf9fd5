"""Cells of files that people open in a spreadsheet."""

import re

# What spreadsheets take for a formula when a cell begins with it.
FORMULA = ("=", "+", "-", "@", "\t", "\r")
NUMBER = re.compile(r"[+-]?\d+(\.\d+)?(e[+-]?\d+)?", re.ASCII | re.IGNORECASE)


def safe(cell: str) -> str:
    """Return a text that no spreadsheet takes for a formula."""
    return f"'{cell}" if cell.startswith(FORMULA) else cell


def safe_or_number(cell: str) -> str:
    """Return a cell of a column that may hold numbers: a number as it is, else safe."""
    return cell if NUMBER.fullmatch(cell) else safe(cell)
