"""Readings files: CSV, UTF-8, a header row, one reading a row.

The columns are described in docs/readings-file.md.

The whole file is checked before anything is judged, so that every fault is said
at once and no half result is written.
"""

import csv
import io
import sys
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any, NamedTuple

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
    parse_accuracy,
    parse_number,
)
from models.judging.judge import judge_checked
from models.judging.reading_check import Checked
from models.judging.subject import CONDUCTORS, GEARS, INSULATIONS, METHODS, SUPPLIES
from models.judging.timing_options import AGAINST, BANDS

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
    "bands",
    "ceiling_multiple",
    "minimum_time_s",
    "pickup_error_pct",
    "current_error_pct",
    "timed_against",
    "measured_pickup_a",
    "accuracy",
)
MOST_UNKNOWN = 50  # columns named one by one: who has more sends another file
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
    "ceiling_multiple",
    "minimum_time_s",
    "pickup_error_pct",
    "current_error_pct",
    "measured_pickup_a",
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
    "minimum_time_s",
    "pickup_error_pct",
    "current_error_pct",
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
    "bands": BANDS,
    "timed_against": AGAINST,
}
CONDITIONS = frozenset(
    {
        "temperature_c",
        "humidity_pct",
        "test_kv",
        "duration_s",
        "test_current_a",
        "applied_a",
        "measured_pickup_a",
    }
)
WORDS = ("supply", "method")
# What a rule is compiled from, besides the unit of a limit: rows that have these in
# common share a rule.
SUBJECT_COLUMNS: Mapping[str, tuple[str, ...]] = {
    "insulation_resistance": ("gear", "rated_kv", "insulation", "limit"),
    "contact_resistance": ("gear", "rated_kv", "conductor", "limit"),
    "vacuum_integrity": ("gear", "rated_kv", "rated_withstand_kv", "method", "limit"),
    "relay_timing": (
        "curve",
        "pickup_a",
        "time_dial",
        "tolerance_pct",
        "tolerance_s",
        "bands",
        "ceiling_multiple",
        "minimum_time_s",
        "pickup_error_pct",
        "current_error_pct",
        "timed_against",
    ),
    "dielectric_withstand": (
        "gear",
        "rated_kv",
        "rated_withstand_kv",
        "supply",
        "limit",
    ),
}
MOST_FAULTS = 1000  # listed; a file with more is of another kind altogether


class FileRow(NamedTuple):
    """One row, read and checked."""

    id: str
    test: str
    group: str
    rule: Rule
    reading: Reading
    checked: Checked


class JudgedRow(NamedTuple):
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
        checker = _Checker(_header(next(reader, None)), criteria)
        for cells in reader:
            if not "".join(cells).strip():
                continue
            row = checker.read(cells, reader.line_num, seen, faults)
            if row is not None:
                rows.append(row)
            if len(faults) >= MOST_FAULTS:
                break
    except csv.Error as error:
        faults.append(Fault(field=f"line {reader.line_num}", message=f"{error}."))
    if faults:
        raise InputError(*faults)
    return rows


def judge_rows(rows: list[FileRow]) -> Iterator[JudgedRow]:
    """Judge the rows, groups together, and yield them in the order of the file."""
    groups: dict[tuple[str, str], list[int]] = {}
    for index, row in enumerate(rows):
        if row.group:
            groups.setdefault((row.test, row.group), []).append(index)
    done: dict[int, Judgement] = {}
    for index, row in enumerate(rows):
        if not row.group:
            judgement = judge_checked([(row.rule, row.reading, row.checked)])[0]
        else:
            if index not in done:
                members = groups[(row.test, row.group)]
                items = [
                    (rows[m].rule, rows[m].reading, rows[m].checked) for m in members
                ]
                done.update(zip(members, judge_checked(items), strict=True))
            judgement = done.pop(index)
        yield JudgedRow(row.id, row.test, judgement)


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


def _header(cells: list[str] | None) -> list[str]:
    # Interned, a name is found in a row's cells by identity.
    names = [sys.intern(cell.strip()) for cell in cells or []]
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


class _Checker:
    """Reads rows; rules and accuracies are made once for all rows that share them."""

    def __init__(self, header: list[str], criteria: Criteria) -> None:
        self._header = header
        self._numbers = [
            (name, name in CONDITIONS) for name in NUMBERS if name in header
        ]
        self._choices = [(name, CHOICES[name]) for name in CHOICES if name in header]
        self._criteria = criteria
        self._rules: dict[tuple[str | None, ...], Rule] = {}
        self._accuracy = lru_cache(maxsize=1024)(parse_accuracy)

    def read(
        self, cells: list[str], line: int, seen: dict[str, int], faults: list[Fault]
    ) -> FileRow | None:
        """Return the row, or None after adding what is wrong to *faults*."""
        if len(cells) != len(self._header):
            message = f"{len(cells)} cells where the header has {len(self._header)}."
            faults.append(Fault(field=f"line {line}", message=message))
            return None
        given = {
            name: text
            for name, cell in zip(self._header, cells, strict=True)
            if cell and (text := cell.strip())
        }
        before = len(faults)
        self._check_words(given, line, seen, faults)
        conditions = self._read_numbers(given, line, faults)
        accuracy = self._read_accuracy(given, line, faults)
        checked = _check_value(given, line, faults)
        if checked is None or len(faults) > before:
            return None
        return self._row(given, conditions, accuracy, checked)

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
        for name, choices in self._choices:
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

    def _read_numbers(
        self, given: dict[str, str], line: int, faults: list[Fault]
    ) -> dict[str, Any]:
        """Check every number, and return those that are conditions of the reading."""
        conditions: dict[str, Any] = {}
        for name, is_condition in self._numbers:
            text = given.get(name)
            if text is None:
                continue
            try:
                number = number_in(name, text)
            except InputError as error:
                faults.extend(_at(line, name, f.message) for f in error.faults)
                continue
            if is_condition:
                conditions[name] = number
        return conditions

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
        conditions: dict[str, Any],
        accuracy: Accuracy | None,
        checked: Checked,
    ) -> FileRow:
        for name in WORDS:
            if name in given:
                conditions[name] = given[name]
        reading = Reading(
            key=given["id"],
            text=given["value"],
            unit=given.get("unit"),
            accuracy=accuracy,
            conditions=conditions,
        )
        rule = self._rule(given, checked[1])
        group = given.get("group", "")
        return FileRow(given["id"], given["test"], group, rule, reading, checked)

    def _rule(self, given: dict[str, str], unit: str | None) -> Rule:
        test = given["test"]
        columns = SUBJECT_COLUMNS[test]
        key = (test, unit, *map(given.get, columns))
        rule = self._rules.get(key)
        if rule is None:
            plate = {
                name: number_in(name, given[name]) if name in NUMBERS else given[name]
                for name in columns
                if name in given
            }
            rule = compile_rule(test, subject_of(test, plate, unit), self._criteria)
            self._rules[key] = rule
        return rule


def subject_of(test: str, plate: Mapping[str, Any], unit: str | None) -> Subject:
    """Return what the rule is compiled from; *unit* is that of the value."""
    fields = dict(plate)
    word = fields.pop("method", None) or fields.pop("supply", None)
    limit = fields.pop("limit", None)
    withstand = test in ("vacuum_integrity", "dielectric_withstand")
    if limit is None:
        pass
    elif withstand and word in ("ac", "dc"):
        fields[f"level_{word}_kv"] = limit
    elif not withstand or word == "magnetron":
        fields |= {"limit": limit, "limit_unit": unit}
    return Subject(**fields)


def _check_value(
    given: dict[str, str], line: int, faults: list[Fault]
) -> Checked | None:
    procedure = PROCEDURES.get(given.get("test", ""))
    if procedure is None or "value" not in given:
        return None
    try:
        return check_reading(procedure, given["value"], given.get("unit"))
    except InputError as error:
        faults.extend(_at(line, f.field, f.message) for f in error.faults)
        return None


@lru_cache(maxsize=16384)
def number_in(name: str, text: str) -> float:
    """Return what the column *name* holds; InputError for what it may not hold."""
    value = parse_number(text)
    if value <= 0 and _refused(name, value):
        raise InputError(Fault(field=name, message=f"{text} must be above zero."))
    return value


def _refused(name: str, value: float) -> bool:
    """Whether *value* is below what the column may hold."""
    return name in POSITIVE and (value < 0 or name not in MAY_BE_ZERO)


def _at(line: int, column: str, message: str) -> Fault:
    return Fault(field=f"line {line}, column {column}", message=message)
