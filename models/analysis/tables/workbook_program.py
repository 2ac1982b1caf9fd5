"""Read a workbook's cells: a program of its own, with little memory and time.

Standard input is the file, standard output JSON: `{"sheets": {name: [[row number,
[[text, what is wrong], ...]], ...]}}` or `{"fault": [place, sentence]}`. A workbook can
unfold to any size, so that whoever starts this lets it die.
"""

import io
import json
import re
import sys
import warnings
from collections.abc import Iterator
from datetime import datetime
from typing import Any

from models.analysis.tables.places import (
    BLANK,
    MOST_COLUMNS,
    MOST_ROWS,
    Cell,
    checked,
    letter,
)

MEMORY = 1 << 30  # bytes of address space
SECONDS = 20  # of the processor
DIGITS_KEPT = 1e15  # from here on a number of a workbook loses its last digits
NO_WORKBOOK = "This is not a workbook (XLSX) that can be read."
WRONG = {
    "e": "holds the error {value}.",
    "b": "holds {value}: write yes or no as text.",
    "d": "holds a date or a time: write the number, or format the cell as text.",
}
LEADING_ZEROS = re.compile("0+")


def limit() -> None:
    """Take the limits; a system that has none goes without."""
    try:
        import resource  # noqa: PLC0415 (not on every system)
    except ImportError:
        return
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))


def sheets_of(data: bytes) -> dict[str, Any]:
    """Return what is to be written of the workbook *data*."""
    from openpyxl import load_workbook  # noqa: PLC0415 (after the limits)

    try:
        as_typed = load_workbook(io.BytesIO(data), keep_links=False)
        results = load_workbook(io.BytesIO(data), keep_links=False, data_only=True)
        return {
            "sheets": {
                sheet.title: list(_rows(sheet, results[sheet.title]))
                for sheet in as_typed.worksheets
            }
        }
    except MemoryError:
        raise
    except _PlacedError as fault:
        return {"fault": list(fault.args)}
    except Exception:
        return {"fault": ["the file", NO_WORKBOOK]}


class _PlacedError(Exception):
    """A fault that ends the reading: its place, and the sentence."""


def _rows(sheet: Any, results: Any) -> Iterator[tuple[int, list[Cell]]]:
    """Yield the rows that hold anything; merged and hidden cells say so."""
    texts = _texts(sheet, results)
    merged = {
        (row, column): str(area)
        for area in sheet.merged_cells.ranges
        for row in range(area.min_row, min(area.max_row, MOST_ROWS) + 1)
        for column in range(area.min_col, min(area.max_col, MOST_COLUMNS) + 1)
    }
    hidden = {
        at - 1
        for held in sheet.column_dimensions.values()
        if held.hidden and held.min
        for at in range(held.min, min(held.max, MOST_COLUMNS) + 1)
    }
    rows: dict[int, dict[int, Cell]] = {}
    for (row, column), cell in texts.items():
        rows.setdefault(row, {})[column] = cell
    for row, filled in sorted(rows.items()):
        cells = [filled.get(n, BLANK) for n in range(1, max(filled) + 1)]
        for n, (text, wrong) in enumerate(cells):
            if area := merged.get((row, n + 1)):
                said = f"is part of the merged cells {area}: unmerge them, and write "
                cells[n] = text, said + "the value into each row."
            elif not wrong and text and n in hidden:
                cells[n] = text, "stands in a hidden column: show or delete it."
        if sheet.row_dimensions[row].hidden:
            cells[0] = cells[0][0], "stands in a hidden row: show it, or delete it."
        yield row, cells


def _texts(sheet: Any, results: Any) -> dict[tuple[int, int], Cell]:
    """Return what is written, by (row, column) from 1; the rectangle is never made."""
    found = {}
    for (row, column), cell in sheet._cells.items():
        text, wrong = _text(cell, results, row, column)
        if not text.strip() and not wrong:
            continue
        if row > MOST_ROWS or column > MOST_COLUMNS:
            place = f"{sheet.title}, row {row}, column {letter(column - 1)}"
            said = (
                f"A cell is filled far out; a table ends at row {MOST_ROWS} and column "
                f"{letter(MOST_COLUMNS - 1)}. Clear it."
            )
            raise _PlacedError(place, said)
        found[row, column] = text, wrong
    return found


def _text(cell: Any, results: Any, row: int, column: int) -> Cell:
    """Return what a cell holds as it is typed, and what is wrong with it."""
    if cell.data_type == "f":
        stored = results.cell(row, column)
        if stored.value is None:
            said = "holds a formula without a stored result: write the value itself."
            return "", said
        cell = stored
    value = cell.value
    if value is None:
        return BLANK
    if cell.data_type in WRONG:
        text = value.isoformat() if isinstance(value, datetime) else ""
        return text, WRONG[cell.data_type].format(value=str(value).upper())
    if isinstance(value, int | float):
        return _number(value, str(cell.number_format))
    return checked(str(value))


def _number(value: float, shown_as: str) -> Cell:
    text = repr(value)
    if "%" in shown_as:
        return text, f"is shown as a percentage and stored as {text}: write it as text."
    if abs(value) >= DIGITS_KEPT:
        return (
            text,
            "is a number of more than 15 digits, not all kept: write it as text.",
        )
    if LEADING_ZEROS.fullmatch(shown_as) and len(text) < len(shown_as):
        shown = text.rjust(len(shown_as), "0")
        return text, f"is shown as {shown} and stored as {text}: write it as text."
    return text, ""


def main() -> None:
    """Read standard input, write standard output."""
    limit()
    warnings.simplefilter("ignore")  # the library warns of styles that it does not know
    json.dump(sheets_of(sys.stdin.buffer.read()), sys.stdout)


if __name__ == "__main__":
    main()
