"""The baseline as a CSV file: one point a row, the unit of each number beside it."""

import csv
from collections.abc import Mapping
from io import StringIO
from typing import Any

from models.services.owner.gear_book import BookRow, GearBook
from webapp.words.csv_cells import safe

HEADER = (
    "site",
    "lineup",
    "cell",
    "apparatus",
    "procedure",
    "detail",
    "point",
    "baseline_round",
    "baseline_taken_at",
    "baseline_typed",
    "baseline_typed_unit",
    "baseline_at_20_degc",
    "baseline_uncertainty",
    "baseline_bound",
    "baseline_verdict",
    "latest_round",
    "latest_taken_at",
    "latest_typed",
    "latest_typed_unit",
    "latest_at_20_degc",
    "latest_uncertainty",
    "latest_bound",
    "latest_verdict",
    "unit_at_20_degc",
    "change_pct",
)


def baseline_csv(book: GearBook) -> str:
    """Return the file; a number without a value is blank.

    A bound says what an off-scale reading knows: `at_least` or `at_most`. A text
    of people's that a spreadsheet took for a formula begins with '.
    """
    out = StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(HEADER)
    for row in book.rows:
        writer.writerow(_cells(book, row))
    return out.getvalue()


def _cells(book: GearBook, row: BookRow) -> list[object]:
    title = book.baseline_round.title if book.baseline_round else ""
    known = row.baseline or row.latest or {}
    return [
        *map(safe, (book.site_name, book.name, row.cell, row.apparatus)),
        *map(safe, (row.procedure, row.detail, row.point, title)),
        *_reading(row.baseline),
        safe(row.latest_round or ""),
        *_reading(row.latest),
        known.get("value_unit") or "",
        "" if row.change_pct is None else round(row.change_pct, 2),
    ]


def _reading(value: Mapping[str, Any] | None) -> list[object]:
    if value is None:
        return [""] * 7
    bound = "at_least" if value["over_range"] else ""
    if value["under_range"]:
        bound = "at_most"
    return [
        value["at"],
        value["text"],
        value["unit"] or "",
        "" if value["value"] is None else value["value"],
        "" if value["uncertainty"] is None else value["uncertainty"],
        bound,
        value["verdict"],
    ]
