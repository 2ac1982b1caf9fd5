"""Cells of files that people open in a spreadsheet."""

# What spreadsheets take for a formula when a cell begins with it.
FORMULA = ("=", "+", "-", "@", "\t", "\r")


def safe(cell: str) -> str:
    """Return a text that no spreadsheet takes for a formula."""
    return f"'{cell}" if cell.startswith(FORMULA) else cell
