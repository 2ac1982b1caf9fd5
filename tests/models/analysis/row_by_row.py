"""A readings file read and judged a row after the other, by the scalar core alone.

The plainest way there is, with everything in memory: what the program does in columns
and in parts is held against it.
"""

import csv
import io
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from models.analysis.readings_file import (
    CHOICES,
    COLUMNS,
    CONDITIONS,
    FLAGS,
    MOST_FAULTS,
    MOST_UNKNOWN,
    NUMBERS,
    REQUIRED,
    SAID,
    SUBJECT_COLUMNS,
    TEXTS,
    WORDS,
    choice_in,
    number_in,
    text_in,
)
from models.errors import Fault, InputError
from models.judging import (
    Accuracy,
    Criteria,
    Judgement,
    RangedAccuracy,
    Reading,
    Rule,
    check_reading,
    parse_accuracy,
)
from models.procedures import PROCEDURES, Subject, compile_rule, judge


class FileRow(NamedTuple):
    id: str
    test: str
    group: str
    rule: Rule
    reading: Reading


def read_rows(data: bytes, criteria: Criteria) -> list[FileRow]:
    """Read and check a whole file; InputError with every fault."""
    reader = csv.reader(io.StringIO(_decoded(data), newline=""), strict=True)
    faults: list[Fault] = []
    rows: list[FileRow] = []
    seen: dict[str, int] = {}
    try:
        first = next(reader, [])
        if _blank(first) and all(map(_blank, reader)):
            raise _whole_file("The file is empty: a header row is wanted.")
        header = _header(first)
        for cells in reader:
            if _blank(cells):
                continue
            row = _row(header, cells, reader.line_num, seen, faults, criteria)
            if row is not None:
                rows.append(row)
    except csv.Error as error:
        faults.append(Fault(field=f"line {reader.line_num}", message=f"{error}."))
    if faults:
        raise InputError(*faults[:MOST_FAULTS])
    return rows


def judge_rows(rows: list[FileRow]) -> Iterator[tuple[FileRow, Judgement]]:
    """Judge the rows, groups together, and yield them in the order of the file."""
    groups: dict[Any, list[int]] = {}
    for index, row in enumerate(rows):
        alone = (row.test, row.group) if row.group else index
        groups.setdefault(alone, []).append(index)
    judged: dict[int, Judgement] = {}
    for members in groups.values():
        items = [(rows[m].rule, rows[m].reading) for m in members]
        judged.update(zip(members, judge(items), strict=True))
    for index, row in enumerate(rows):
        yield row, judged[index]


def _blank(cells: list[str]) -> bool:
    return not "".join(cells).strip()


def _decoded(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise _whole_file("The file is UTF-16: save it as CSV in UTF-8.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise _whole_file(
            f"byte 0x{data[error.start]:02x} is not UTF-8: save the file as CSV in "
            "UTF-8.",
            line,
        ) from error
    if "\0" in text:
        line = text[: text.index("\0")].count("\n") + 1
        raise _whole_file("a NUL byte: this is not a CSV file in UTF-8.", line)
    return text


def _whole_file(message: str, line: int = 1) -> InputError:
    return InputError(Fault(field=f"line {line}", message=message))


def _unknown(names: list[str]) -> list[Fault]:
    """Return a fault for each unknown column; of a file of another kind, the first."""
    known = f"unknown column; known are {', '.join(COLUMNS)}."
    faults = [
        Fault(field=f"line 1, column {name or '(blank)'}", message=known)
        for name in names[:MOST_UNKNOWN]
    ]
    if len(names) > MOST_UNKNOWN:
        message = f"{len(names) - MOST_UNKNOWN} further columns are unknown."
        faults.append(Fault(field="line 1", message=message))
    return faults


def _header(cells: list[str]) -> list[str]:
    names = [cell.strip() for cell in cells]
    faults = _unknown([n for n in dict.fromkeys(names) if n not in COLUMNS])
    faults.extend(
        Fault(field=f"line 1, column {name}", message="given more than once.")
        for name in dict.fromkeys(names)
        if name in COLUMNS and names.count(name) > 1
    )
    faults.extend(
        Fault(field=f"line 1, column {name}", message="this column is missing.")
        for name in REQUIRED
        if name not in names
    )
    if faults:
        raise InputError(*faults)
    return names


def _row(
    header: list[str],
    cells: list[str],
    line: int,
    seen: dict[str, int],
    faults: list[Fault],
    criteria: Criteria,
) -> FileRow | None:
    """Return the row, or None after adding what is wrong to *faults*."""
    if len(cells) != len(header):
        message = f"{len(cells)} cells where the header has {len(header)}."
        faults.append(Fault(field=f"line {line}", message=message))
        return None
    given = {
        name: cell.strip()
        for name, cell in zip(header, cells, strict=True)
        if cell.strip()
    }
    before = len(faults)
    _check_words(given, line, seen, faults)
    conditions = _read_numbers(given, line, faults)
    accuracy = _read_accuracy(given, line, faults)
    unit = _check_value(given, line, faults)
    if len(faults) > before:
        return None
    for name in (*WORDS, *SAID):
        if name in given:
            conditions[name] = _said(name, given[name])
    reading = Reading(
        key=given["id"],
        text=given["value"],
        unit=given.get("unit"),
        accuracy=accuracy,
        conditions=conditions,
    )
    rule = _rule(given, unit, criteria)
    return FileRow(given["id"], given["test"], given.get("group", ""), rule, reading)


def _said(name: str, text: str) -> Any:
    """Return what a column of words or texts holds; InputError for what it may not."""
    if name in TEXTS:
        return text_in(name, text)
    word = choice_in(name, text)
    return word == "yes" if name in FLAGS else word


def _check_words(
    given: dict[str, str], line: int, seen: dict[str, int], faults: list[Fault]
) -> None:
    for name in REQUIRED:
        if name not in given:
            faults.append(_at(line, name, "must not be blank."))
    for name in (*CHOICES, *TEXTS):
        try:
            if name in given:
                _said(name, given[name])
        except InputError as error:
            faults.extend(_at(line, name, f.message) for f in error.faults)
    row_id = given.get("id")
    if row_id in seen:
        message = f"'{row_id}' was used in line {seen[row_id]} already."
        faults.append(_at(line, "id", message))
    elif row_id is not None:
        seen[row_id] = line


def _read_numbers(
    given: dict[str, str], line: int, faults: list[Fault]
) -> dict[str, Any]:
    """Check every number, and return those that are conditions of the reading."""
    conditions: dict[str, Any] = {}
    for name in (name for name in NUMBERS if name in given):
        try:
            number = number_in(name, given[name])
        except InputError as error:
            faults.extend(_at(line, name, f.message) for f in error.faults)
            continue
        if name in CONDITIONS:
            conditions[name] = number
    return conditions


def _read_accuracy(
    given: dict[str, str], line: int, faults: list[Fault]
) -> Accuracy | RangedAccuracy | None:
    try:
        return parse_accuracy(given["accuracy"]) if "accuracy" in given else None
    except InputError as error:
        faults.extend(_at(line, "accuracy", f.message) for f in error.faults)
        return None


def _check_value(given: dict[str, str], line: int, faults: list[Fault]) -> str | None:
    """Return the unit's name."""
    procedure = PROCEDURES.get(given.get("test", ""))
    if procedure is None or "value" not in given:
        return None
    try:
        return check_reading(procedure, given["value"], given.get("unit"))[1]
    except InputError as error:
        faults.extend(_at(line, f.field, f.message) for f in error.faults)
        return None


def _rule(given: Mapping[str, str], unit: str | None, criteria: Criteria) -> Rule:
    test = given["test"]
    plate = {
        name: (number_in if name in NUMBERS else _said)(name, given[name])
        for name in SUBJECT_COLUMNS[test]
        if name in given
    }
    return compile_rule(test, Subject(**plate, limit_unit=unit), criteria)


def _at(line: int, column: str, message: str) -> Fault:
    return Fault(field=f"line {line}, column {column}", message=message)
