"""Readings files: CSV, UTF-8, a header row, one reading a row.

The columns are described in docs/readings-file.md.

The whole file is checked before anything is judged, so that every fault is said
at once and no half result is written.
"""

import csv
import io
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from models.errors import Fault, InputError
from models.judging import (
    PROCEDURES,
    Accuracy,
    Criteria,
    Judgement,
    Reading,
    Rule,
    Subject,
    check_reading,
    compile_rule,
    judge,
    parse_accuracy,
    parse_number,
)
from models.judging.subject import CONDUCTORS, GEARS, INSULATIONS, METHODS, SUPPLIES

COLUMNS = (
    "id",
    "test",
    "gear",
    "rated_kv",
    "rated_withstand_kv",
    "group",
    "point",
    "value",
    "unit",
    "temperature_c",
    "humidity_pct",
    "test_kv",
    "supply",
    "method",
    "duration_s",
    "test_current_a",
    "insulation",
    "conductor",
    "limit",
    "curve",
    "pickup_a",
    "applied_a",
    "time_dial",
    "tolerance_pct",
    "tolerance_s",
    "accuracy",
)
REQUIRED = ("id", "test", "value")
POSITIVE = (
    "rated_kv",
    "rated_withstand_kv",
    "test_kv",
    "duration_s",
    "test_current_a",
    "limit",
    "pickup_a",
    "applied_a",
    "time_dial",
    "tolerance_pct",
    "tolerance_s",
    "humidity_pct",
)
MAY_BE_ZERO = (
    "humidity_pct",
    "test_kv",
    "duration_s",
    "test_current_a",
    "applied_a",
    "tolerance_pct",
    "tolerance_s",
    "limit",
)
NUMBERS = (*POSITIVE, "temperature_c")
CHOICES: Mapping[str, tuple[str, ...]] = {
    "test": tuple(PROCEDURES),
    "gear": GEARS,
    "supply": SUPPLIES,
    "method": METHODS,
    "insulation": INSULATIONS,
    "conductor": CONDUCTORS,
    "curve": (
        "ieee_moderately_inverse",
        "ieee_very_inverse",
        "ieee_extremely_inverse",
        "iec_standard_inverse",
        "iec_very_inverse",
        "iec_extremely_inverse",
        "iec_long_time_inverse",
        "definite_time",
    ),
}
CONDITIONS = frozenset(
    {
        "temperature_c",
        "humidity_pct",
        "test_kv",
        "duration_s",
        "test_current_a",
        "applied_a",
    }
)
WORDS = ("supply", "method")
MOST_FAULTS = 1000  # listed; a file with more is of another kind altogether


@dataclass(frozen=True, slots=True)
class FileRow:
    """One row, read and checked."""

    id: str
    test: str
    group: str
    rule: Rule
    reading: Reading


@dataclass(frozen=True, slots=True)
class JudgedRow:
    """One row with its judgement."""

    id: str
    test: str
    judgement: Judgement

    def as_json(self) -> dict[str, Any]:
        """Return the object that `witnessmark judge` prints."""
        return {"id": self.id, "test": self.test, **self.judgement.as_json()}


def read_rows(data: bytes, criteria: Criteria) -> list[FileRow]:
    """Read and check a whole file.

    Raises InputError whose faults' fields are places, "line 3, column value".
    """
    text = _decoded(data)
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    faults: list[Fault] = []
    rows: list[FileRow] = []
    seen: dict[str, int] = {}
    try:
        header = _header(next(reader, None))
        checker = _Checker(criteria)
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            row = checker.read(header, cells, reader.line_num, seen, faults)
            if row is not None:
                rows.append(row)
            if len(faults) >= MOST_FAULTS:
                break
    except csv.Error as error:
        faults.append(Fault(field=f"line {reader.line_num}", message=f"{error}."))
    if faults:
        raise InputError(*faults)
    return rows


def judge_rows(
    rows: list[FileRow], on_progress: Callable[[int], object] = lambda _n: None
) -> Iterator[JudgedRow]:
    """Judge the rows, groups together, and yield them in the order of the file."""
    groups: dict[tuple[str, str], list[int]] = {}
    for index, row in enumerate(rows):
        if row.group:
            groups.setdefault((row.test, row.group), []).append(index)
    done: dict[int, Judgement] = {}
    for index, row in enumerate(rows):
        if index not in done:
            members = groups[(row.test, row.group)] if row.group else [index]
            items = [(rows[m].rule, rows[m].reading) for m in members]
            done.update(zip(members, judge(items), strict=True))
        yield JudgedRow(row.id, row.test, done.pop(index))
        on_progress(index + 1)


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
    if not text.strip():
        raise _whole_file("The file is empty: a header row is wanted.")
    return text


def _whole_file(message: str, line: int = 1) -> InputError:
    return InputError(Fault(field=f"line {line}", message=message))


def _header(cells: list[str] | None) -> list[str]:
    names = [cell.strip() for cell in cells or []]
    faults = []
    for name in dict.fromkeys(names):
        if name not in COLUMNS:
            said = name or "(blank)"
            faults.append(
                Fault(
                    field=f"line 1, column {said}",
                    message=f"unknown column; known are {', '.join(COLUMNS)}.",
                )
            )
        elif names.count(name) > 1:
            faults.append(
                Fault(field=f"line 1, column {name}", message="given more than once.")
            )
    faults.extend(
        Fault(field=f"line 1, column {name}", message="this column is missing.")
        for name in REQUIRED
        if name not in names
    )
    if faults:
        raise InputError(*faults)
    return names


class _Checker:
    """Reads rows; rules and accuracies are made once for all rows that share them."""

    def __init__(self, criteria: Criteria) -> None:
        self._criteria = criteria
        self._rule = lru_cache(maxsize=4096)(self._compile)
        self._accuracy = lru_cache(maxsize=1024)(parse_accuracy)

    def _compile(self, test: str, subject: Subject) -> Rule:
        return compile_rule(test, subject, self._criteria)

    def read(
        self,
        header: list[str],
        cells: list[str],
        line: int,
        seen: dict[str, int],
        faults: list[Fault],
    ) -> FileRow | None:
        """Return the row, or None after adding what is wrong to *faults*."""
        if len(cells) != len(header):
            message = f"{len(cells)} cells where the header has {len(header)}."
            faults.append(Fault(field=f"line {line}", message=message))
            return None
        given = {
            name: stripped
            for name, cell in zip(header, cells, strict=True)
            if (stripped := cell.strip())
        }
        before = len(faults)
        self._check_words(given, line, seen, faults)
        numbers = _numbers(given, line, faults)
        accuracy = self._read_accuracy(given, line, faults)
        if "value" in given and given.get("test") in PROCEDURES:
            _check_value(given, line, faults)
        if len(faults) > before:
            return None
        return self._row(given, numbers, accuracy)

    def _check_words(
        self,
        given: dict[str, str],
        line: int,
        seen: dict[str, int],
        faults: list[Fault],
    ) -> None:
        for name in REQUIRED:
            if name not in given:
                faults.append(_at(line, name, "must not be blank."))
        for name, choices in CHOICES.items():
            if name in given and given[name] not in choices:
                known = ", ".join(choices)
                faults.append(_at(line, name, f"'{given[name]}' is none of {known}."))
        row_id = given.get("id")
        if row_id is None:
            return
        if row_id in seen:
            faults.append(
                _at(line, "id", f"'{row_id}' was used in line {seen[row_id]} already.")
            )
        else:
            seen[row_id] = line

    def _read_accuracy(
        self, given: dict[str, str], line: int, faults: list[Fault]
    ) -> Accuracy | None:
        if "accuracy" not in given:
            return None
        try:
            return self._accuracy(given["accuracy"])
        except InputError as error:
            faults.extend(_at(line, "accuracy", f.message) for f in error.faults)
            return None

    def _row(
        self,
        given: dict[str, str],
        numbers: dict[str, float],
        accuracy: Accuracy | None,
    ) -> FileRow:
        conditions: dict[str, Any] = {
            name: value for name, value in numbers.items() if name in CONDITIONS
        }
        conditions |= {name: given[name] for name in WORDS if name in given}
        reading = Reading(
            key=given["id"],
            text=given["value"],
            unit=given.get("unit"),
            accuracy=accuracy,
            conditions=conditions,
        )
        subject = _subject(given, numbers)
        return FileRow(
            id=given["id"],
            test=given["test"],
            group=given.get("group", ""),
            rule=self._rule(given["test"], subject),
            reading=reading,
        )


def _subject(given: dict[str, str], numbers: dict[str, float]) -> Subject:
    """Return what the rule is compiled from; only what the procedure looks at."""
    test, limit = given["test"], numbers.get("limit")
    common: dict[str, Any] = {
        "gear": given.get("gear"),
        "rated_kv": numbers.get("rated_kv"),
    }
    if test == "insulation_resistance":
        common["insulation"] = given.get("insulation")
    elif test == "contact_resistance":
        common["conductor"] = given.get("conductor")
    elif test == "relay_timing":
        return Subject(
            curve=given.get("curve"),
            pickup_a=numbers.get("pickup_a"),
            time_dial=numbers.get("time_dial"),
            tolerance_pct=numbers.get("tolerance_pct"),
            tolerance_s=numbers.get("tolerance_s"),
        )
    else:
        common["rated_withstand_kv"] = numbers.get("rated_withstand_kv")
        word = given.get("method" if test == "vacuum_integrity" else "supply")
        if limit is not None and word in ("ac", "dc"):
            common[f"level_{word}_kv"] = limit
            limit = None
        elif word != "magnetron":
            limit = None
    if limit is not None:
        common |= {"limit": limit, "limit_unit": _unit_of(given)}
    return Subject(**common)


def _unit_of(given: dict[str, str]) -> str | None:
    return check_reading(PROCEDURES[given["test"]], given["value"], given.get("unit"))[
        1
    ]


def _check_value(given: dict[str, str], line: int, faults: list[Fault]) -> None:
    try:
        check_reading(PROCEDURES[given["test"]], given["value"], given.get("unit"))
    except InputError as error:
        faults.extend(_at(line, f.field, f.message) for f in error.faults)


def _numbers(given: dict[str, str], line: int, faults: list[Fault]) -> dict[str, float]:
    numbers: dict[str, float] = {}
    for name in NUMBERS:
        if name not in given:
            continue
        try:
            value = parse_number(given[name])
        except InputError as error:
            faults.extend(_at(line, name, f.message) for f in error.faults)
            continue
        if value <= 0 and _refused(name, value):
            faults.append(_at(line, name, f"{given[name]} must be above zero."))
            continue
        numbers[name] = value
    return numbers


def _refused(name: str, value: float) -> bool:
    """Whether *value* is below what the column may hold."""
    return name in POSITIVE and (value < 0 or name not in MAY_BE_ZERO)


def _at(line: int, column: str, message: str) -> Fault:
    return Fault(field=f"line {line}, column {column}", message=message)
