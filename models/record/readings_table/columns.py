"""What each column of an instrument's table is: chosen once, offered again."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from models.errors import Fault, InputError

TIMES = {
    "%Y-%m-%d %H:%M:%S": "2026-11-30 14:05:09",
    "%d.%m.%Y %H:%M:%S": "30.11.2026 14:05:09",
    "%d/%m/%Y %H:%M:%S": "30/11/2026 14:05:09",
    "%m/%d/%Y %H:%M:%S": "11/30/2026 14:05:09",
    "%m/%d/%Y %I:%M:%S %p": "11/30/2026 02:05:09 PM",
}
ROWS = re.compile(r"\s*(\d{1,6})(?:\s*[-–]\s*(\d{1,6}))?\s*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Columns are counted from 0; None: the table has none.

    *over_from* is the end of the range that the word *over_word* stands for; *bounds*
    says whether ">2000" is read as over range. *conditions* are columns by condition.
    *cell*, *apparatus* and *test* are of a table for several cards: where a row
    belongs, and the procedure of all rows.
    """

    sheet: str = ""
    header: int = 1  # the row of the headings; what stands above is passed over
    test: str = ""
    cell: int | None = None
    apparatus: int | None = None
    point: int | None = None
    value: int | None = None
    unit: int | None = None
    unit_given: str = ""
    taken: int | None = None
    note: int | None = None
    time_format: str = "%Y-%m-%d %H:%M:%S"
    decimal: str = "."
    bounds: bool = False
    over_word: str = ""
    over_from: str = ""
    conditions: Mapping[str, int] = field(default_factory=dict)


def rows_left_out(typed: str) -> set[int]:
    """Return the rows that *typed* names: `2, 5-9`; InputError for anything else."""
    found: set[int] = set()
    for part in filter(str.strip, typed.split(",")):
        match = ROWS.fullmatch(part)
        if match is None:
            message = f"“{part.strip()}” names no rows: write them as 2, 5-9."
            raise InputError(Fault(field="left_out", message=message))
        first, last = int(match[1]), int(match[2] or match[1])
        found.update(range(first, last + 1))
    return found
