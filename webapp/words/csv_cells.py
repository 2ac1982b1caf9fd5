"""Cells of files that people open in a spreadsheet."""

import re

# What spreadsheets take for a formula when a cell begins with it.
FORMULA = ("=", "+", "-", "@", "\t", "\r")
NUMBER = re.compile(r"[+-]?\d+(\.\d+)?(e[+-]?\d+)?", re.ASCII | re.IGNORECASE)


def safe(cell: str) -> str:
    """Return a text that no spreadsheet takes for a formula; a number as it is."""
    if not cell.startswith(FORMULA) or NUMBER.fullmatch(cell):
        return cell
    return f"'{cell}"
