"""A readings file with rows of every procedure: the golden cases, over and over.

A number is moved by up to a thousandth, so that rows are not all alike; the groups of
a case are new ones each time.
"""

import csv
import random
from collections.abc import Iterator, Mapping, Sequence
from itertools import cycle
from pathlib import Path
from typing import Any

from models.analysis.readings_file import (
    CHOICES,
    COLUMNS,
    NUMBERS,
    TEXTS,
    choice_in,
    number_in,
    text_in,
)
from models.errors import InputError
from models.judging import Interval, check_reading, parse_value
from models.procedures import PROCEDURES
from tests.data.golden_case import Case, Given
from tests.data.golden_cases import CASES

Row = dict[str, Any]
# A sixteenth or so of the cases is not within, as in the field.
SLIPS = 0.06


def write_mixed(path: Path, size: int) -> Path:
    """Write *size* rows, of each procedure about as many; only columns in use."""
    cases = [case for case in CASES if rows_of(case)]
    used = {name for case in cases for row in rows_of(case) for name in row}
    columns = [name for name in COLUMNS if name in used | {"id", "group", "point"}]
    dice = random.Random(size)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(columns)
        for number, row in zip(range(size), _endless(cases, dice), strict=False):
            row["id"] = f"r{number}"
            writer.writerow([row.get(name, "") for name in columns])
    return path


def rows_of(case: Case) -> list[Row]:
    """Return the readings of a case as rows; none where a file cannot say it."""
    found = [_row(case, given) for given in case.readings]
    rows = [row for row in found if row is not None]
    return rows if len(rows) == len(found) and case.decision == "guarded" else []


def tests_of(cases: Sequence[Case]) -> set[str]:
    """Return of which procedures there are rows."""
    return {case.procedure for case in cases if rows_of(case)}


def _row(case: Case, given: Given) -> Row | None:
    subject = given.subject or case.subject
    row: Row = {"test": case.procedure, "value": given.text, "unit": given.unit or ""}
    row |= {name: _said(value) for name, value in subject.fields.items()}
    row |= {name: _said(value) for name, value in given.conditions.items()}
    row |= _accuracy(given)
    limits = subject.limit_unit in (None, given.unit)
    known = {*COLUMNS} >= set(row)
    if subject.given or not limits or not known or not _is_read(row):
        return None
    return row


def _is_read(row: Row) -> bool:
    """Whether a file may hold these cells: some cases hold what no file can."""
    try:
        for name, cell in row.items():
            if name in NUMBERS:
                number_in(name, cell)
            elif name in TEXTS:
                text_in(name, cell)
            elif name in CHOICES:
                choice_in(name, cell)
    except InputError:
        return False
    return True


def _said(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return repr(value) if isinstance(value, float | int) else str(value)


def _accuracy(given: Given) -> Mapping[str, str]:
    stated = given.accuracy or {}
    if "pct" not in stated or stated.get("unit") not in (None, given.unit):
        return {}
    return {"accuracy": f"{stated['pct']}% + {stated['fixed']}"}


def _endless(cases: Sequence[Case], dice: random.Random) -> Iterator[Row]:
    """Yield rows, of one procedure after the other, its cases in turn."""
    good, bad = _turns(cases, True), _turns(cases, False)
    for at, test in enumerate(cycle(good)):
        slips = bad.get(test) if dice.random() < SLIPS else None
        for place, row in enumerate(next(slips or good[test])):
            yield {
                **row,
                "group": f"g{at}",
                "point": str(place + 1),
                "value": _moved(row, dice),
            }


def _turns(cases: Sequence[Case], good: bool) -> dict[str, Iterator[list[Row]]]:
    """Return by test the rows of cases that are within throughout, or that are not."""
    found: dict[str, list[list[Row]]] = {}
    for case in cases:
        within = all(
            one["verdict"] == "within" for one in case.by_hand or ({"verdict": ""},)
        )
        if within is good:
            found.setdefault(case.procedure, []).append(rows_of(case))
    return {test: cycle(rows) for test, rows in found.items()}


def _moved(row: Row, dice: random.Random) -> str:
    text = str(row["value"])
    value = parse_value(text)
    if not isinstance(value, Interval) or value.low != value.high:
        return text
    moved = f"{value.bound * dice.uniform(0.999, 1.001):.6g}"
    check_reading(PROCEDURES[row["test"]], moved, row["unit"])
    return moved
