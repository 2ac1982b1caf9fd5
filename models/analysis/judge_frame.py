"""Many readings in a data frame, judged rule by rule in columns.

The verdicts and numbers are those of `witnessmark judge` on the same rows, without
the words.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import Any, NamedTuple

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from models.analysis.readings_file import (
    CHOICES,
    COLUMNS,
    CONDITIONS,
    MOST_FAULTS,
    NUMBERS,
    SUBJECT_COLUMNS,
    WORDS,
    number_in,
    subject_of,
)
from models.errors import Fault, InputError
from models.judging import (
    PROCEDURES,
    Accuracy,
    Criteria,
    Interval,
    Outcome,
    Reading,
    Rule,
    check_reading,
    compile_rule,
    judge,
    parse_accuracy,
)
from models.judging.batch import (
    OUTCOME_CODES,
    UNIT_CODES,
    VERDICT_CODES,
    WORD_CODES,
    Judged,
    Readings,
    judge_columns,
)

REQUIRED = ("test", "value")
GIVEN = "given"  # test, value and unit of a row taken together
Rows = NDArray[np.intp]


class _Column(NamedTuple):
    """A column's cells: what each distinct one holds, and which one a row has.

    A blank cell's code is -1; the last of *found* is None for it.
    """

    codes: Rows
    found: list[Any]

    def at(self, row: int) -> Any:
        """Return what the cell of a row holds; None: blank."""
        return self.found[self.codes[row]]

    def map(self, make: Callable[[Any], Any]) -> NDArray[Any]:
        """Return for each row what *make* gives of its cell."""
        return np.array([make(each) for each in self.found])[self.codes]


Cells = Mapping[str, _Column]


def judge_frame(frame: pd.DataFrame, criteria: Criteria) -> pd.DataFrame:
    """Return a frame of the same index: verdict, corrected, limits, uncertainty.

    *frame* has the columns of a readings file, cells as text or as numbers; `id` is
    not needed. Raises InputError, a fault a place ("row 3, column value", the row by
    its label), for what the file's reader refuses.
    """
    cells = _read(frame)
    judged = _nothing(len(frame))
    rules, rule_of = _rules(cells, criteria)
    mixed = _in_mixed_groups(cells, rules, rule_of)
    columns = _columns(cells)
    for rule, rows in zip(rules, _by_rule(len(rules), rule_of, mixed), strict=True):
        found = judge_columns(rule, columns.part(rows))
        for name in Judged._fields:
            getattr(judged, name)[rows] = getattr(found, name)
    _judge_mixed(cells, rules, rule_of, mixed, judged)
    words = [str(verdict) for verdict in VERDICT_CODES[1:]]
    verdict = pd.Categorical.from_codes(judged.verdict.astype(int) - 1, words)
    return pd.DataFrame(
        {"verdict": verdict, **dict(list(judged._asdict().items())[1:])},
        index=frame.index,
    )


def _by_rule(rules: int, rule_of: Rows, mixed: NDArray[Any]) -> list[Rows]:
    """Return the rows of each rule that are judged in columns."""
    rows = np.flatnonzero(~mixed)
    order = rows[np.argsort(rule_of[rows], kind="stable")]
    ends = np.searchsorted(rule_of[order], np.arange(1, rules))
    return np.split(order, ends) if rules else []


def _nothing(rows: int) -> Judged:
    """Return columns for judgements, each null."""
    return Judged(np.zeros(rows, np.uint8), *np.full((4, rows), np.nan))


def _read(frame: pd.DataFrame) -> Cells:
    """Read and check every cell; InputError with all that is wrong."""
    faults = _wrong_columns(frame)
    if faults:
        raise InputError(*faults)
    cells = {name: _column(frame, name, faults) for name in COLUMNS}
    for name in REQUIRED:
        blank = np.flatnonzero(cells[name].codes == -1)
        _refuse(faults, frame, name, blank, "must not be blank.")
    cells[GIVEN] = _given(frame, cells, faults)
    if faults:
        raise InputError(*faults[:MOST_FAULTS])
    return cells


def _wrong_columns(frame: pd.DataFrame) -> list[Fault]:
    names = [str(name) for name in frame.columns]
    known = ", ".join(COLUMNS)
    wrong = {
        **{n: f"unknown column; known are {known}." for n in names if n not in COLUMNS},
        **{n: "given more than once." for n in names if names.count(n) > 1},
        **{n: "this column is missing." for n in REQUIRED if n not in names},
    }
    return [Fault(field=f"column {n}", message=said) for n, said in wrong.items()]


def _refuse(
    faults: list[Fault], frame: pd.DataFrame, name: str, rows: Rows, message: str
) -> None:
    faults.extend(
        Fault(field=f"row {frame.index[row]}, column {name}", message=message)
        for row in rows[:MOST_FAULTS]
    )


def _column(frame: pd.DataFrame, name: str, faults: list[Fault]) -> _Column:
    """Read a column, each distinct cell once."""
    if name not in frame.columns:
        return _Column(np.full(len(frame), -1, np.intp), [None])
    cell_codes, cells = pd.factorize(frame[name])
    codes, texts = pd.factorize(
        np.array([str(c).strip() or None for c in cells] + [None], object)[cell_codes]
    )
    found: list[Any] = []
    for at, text in enumerate(texts):
        try:
            found.append(_reader(name)(text))
        except InputError as error:
            found.append(None)
            for fault in error.faults:
                rows = np.flatnonzero(codes == at)
                _refuse(faults, frame, name, rows, fault.message)
    return _Column(codes, [*found, None])


def _reader(name: str) -> Callable[[str], Any]:
    if name in NUMBERS:
        return partial(number_in, name)
    if name in CHOICES:
        return partial(_choice, name)
    return parse_accuracy if name == "accuracy" else str


def _choice(name: str, text: str) -> str:
    if text not in CHOICES[name]:
        known = ", ".join(CHOICES[name])
        raise InputError(Fault(field=name, message=f"'{text}' is none of {known}."))
    return text


def _given(frame: pd.DataFrame, cells: Cells, faults: list[Fault]) -> _Column:
    """Check test, value and unit together, each distinct three of them once."""
    names = ("test", "value", "unit")
    shape = tuple(len(cells[name].found) for name in names)
    # The code -1 of a blank is the last place, which wraps to it.
    places = [cells[n].codes % len(cells[n].found) for n in names]
    codes, threes = pd.factorize(np.ravel_multi_index(places, shape))
    found: list[Any] = []
    for at, three in enumerate(zip(*np.unravel_index(threes, shape), strict=True)):
        test, value, unit = (
            cells[name].found[place] for name, place in zip(names, three, strict=True)
        )
        found.append(None)
        if test is None or value is None:
            continue
        try:
            found[-1] = check_reading(PROCEDURES[test], value, unit)
        except InputError as error:
            for fault in error.faults:
                rows = np.flatnonzero(codes == at)
                _refuse(faults, frame, fault.field, rows, fault.message)
    return _Column(codes, [*found, None])


def _rules(cells: Cells, criteria: Criteria) -> tuple[list[Rule], Rows]:
    """Return the distinct rules, and which of them each row has."""
    rules: dict[str, tuple[int, Rule]] = {}
    rule_of = np.zeros(len(cells["test"].codes), np.intp)
    for rows, test, unit, plate in _alike(cells):
        rule = compile_rule(test, subject_of(test, plate, unit), criteria)
        key = json.dumps(rule.to_json(), sort_keys=True)
        rule_of[rows] = rules.setdefault(key, (len(rules), rule))[0]
    return [rule for _, rule in rules.values()], rule_of


def _alike(cells: Cells) -> Iterator[tuple[Rows, str, str | None, dict[str, Any]]]:
    """Yield rows with one nameplate: the rows, their test, their unit, the plate."""
    tests = cells["test"].map(str)
    units = cells[GIVEN].map(lambda given: UNIT_CODES.index(given and given[1]))
    for test in dict.fromkeys(tests):
        names = SUBJECT_COLUMNS[test]
        here = np.flatnonzero(tests == test)
        keys = pd.DataFrame({name: cells[name].codes[here] for name in names})
        keys["unit"] = units[here]
        for places in keys.groupby(list(keys), sort=False).indices.values():
            rows = here[places]
            plate = {name: cells[name].at(rows[0]) for name in names}
            known = {name: cell for name, cell in plate.items() if cell is not None}
            yield rows, test, UNIT_CODES[units[rows[0]]], known


def _in_mixed_groups(cells: Cells, rules: list[Rule], rule_of: Rows) -> NDArray[Any]:
    """Return which rows are compared with others that have another rule."""
    compares = np.array([rule.compares for rule in rules], np.bool_)
    group = cells["group"].codes
    mixed = np.zeros(len(group), np.bool_)
    if rules:
        grouped = np.flatnonzero(compares[rule_of] & (group >= 0))
        by_group = pd.Series(rule_of[grouped]).groupby(group[grouped])
        mixed[grouped] = by_group.transform("nunique") > 1
    return mixed


def _columns(cells: Cells) -> Readings:
    """Return all rows as the columns of the judging core; a rule takes its own."""

    def numbers(name: str, part: Callable[[Any], float | None]) -> NDArray[Any]:
        def number(cell: Any) -> float:
            found = None if cell is None else part(cell)
            return np.nan if found is None else found

        return cells[name].map(number)

    def codes(name: str, part: Callable[[Any], int]) -> NDArray[Any]:
        return cells[name].map(lambda cell: 0 if cell is None else part(cell))

    return Readings(
        low=numbers(GIVEN, lambda given: getattr(given[0], "low", None)),
        high=numbers(GIVEN, lambda given: getattr(given[0], "high", None)),
        unit=codes(GIVEN, lambda given: UNIT_CODES.index(given[1])),
        outcome=codes(GIVEN, _outcome_code),
        accuracy_pct=numbers("accuracy", lambda accuracy: accuracy.pct),
        accuracy_fixed=numbers("accuracy", lambda accuracy: accuracy.fixed),
        conditions={
            **{name: numbers(name, float) for name in CONDITIONS},
            **{name: codes(name, WORD_CODES[name].index) for name in WORDS},
        },
        group=cells["group"].codes,
    )


def _outcome_code(given: tuple[Interval | Outcome, str | None]) -> int:
    value = given[0]
    return OUTCOME_CODES.index(value) if isinstance(value, Outcome) else 0


def _judge_mixed(
    cells: Cells, rules: list[Rule], rule_of: Rows, mixed: NDArray[Any], judged: Judged
) -> None:
    """Judge by the scalar core what is compared across rules."""
    rows = np.flatnonzero(mixed)
    groups = pd.Series(rows).groupby(cells["group"].codes[rows], sort=False)
    for members in groups.indices.values():
        group = rows[members]
        items = [(rules[rule_of[row]], _reading(cells, row)) for row in group]
        for row, judgement in zip(group, judge(items), strict=True):
            judged.verdict[row] = VERDICT_CODES.index(judgement.verdict)
            for name in Judged._fields[1:]:
                number = getattr(judgement, name)
                getattr(judged, name)[row] = np.nan if number is None else number


def _reading(cells: Cells, row: int) -> Reading:
    accuracy: Accuracy | None = cells["accuracy"].at(row)
    conditions = {name: cells[name].at(row) for name in (*CONDITIONS, *WORDS)}
    return Reading(
        key=str(row),
        text=cells["value"].at(row),
        unit=cells["unit"].at(row),
        accuracy=accuracy,
        conditions={n: cell for n, cell in conditions.items() if cell is not None},
    )
