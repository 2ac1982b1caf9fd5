"""Judge a part of a readings file: numbers in columns, words row by row.

A part carries all that it needs, so that it may be judged elsewhere.
"""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.analysis.readings_file import WORDS
from models.analysis.typed_rows import (
    TESTS,
    Places,
    Rows,
    columns_of,
    has,
    reading_of,
    written,
)
from models.analysis.work import Work
from models.judging import Judgement, Reading, Rule
from models.judging.batch import (
    WITHIN,
    Judged,
    assigned_bands,
    judge_columns,
)
from models.procedures import judge


class JudgedRow(NamedTuple):
    """One row with its judgement in words."""

    id: str
    test: str
    judgement: Judgement

    def as_json(self) -> dict[str, Any]:
        """Return the object that `witnessmark judge` prints."""
        return {"id": self.id, "test": self.test, **self.judgement.as_json()}


class JudgedPart(NamedTuple):
    """A part that was judged, in the order of the file.

    *judged* in columns; *said*: the judgements with words, by row.
    """

    start: int
    ids: list[str]
    tests: list[str]
    rows: Rows
    judged: Judged
    bases: list[str | None]  # units of the numbers in *judged*
    said: dict[int, Judgement]
    sources: list[list[dict[str, str]]]  # citations, by row

    @property
    def all_within(self) -> bool:
        """Return whether every verdict is within."""
        said = all(each.verdict == "within" for each in self.said.values())
        return said and bool(np.all(self.judged.verdict == WITHIN))

    def judged_rows(self) -> Iterator[JudgedRow]:
        """Yield the rows of a part in which every row was judged with words."""
        for row, (each, test) in enumerate(zip(self.ids, self.tests, strict=True)):
            yield JudgedRow(each, test, self.said[row])


def judge_all(work: Work) -> JudgedPart:
    """Judge every row with words: reason, sources and working."""
    every = np.arange(len(work.part.rows))
    said = dict(_Words(work).of(every))
    empty = Judged(np.zeros(0, np.uint8), *np.zeros((4, 0)))
    sources = [said[row].cite for row in range(len(every))]
    return _judged(work, empty, said, sources)


def judge_briefly(work: Work) -> JudgedPart:
    """Judge in columns; words for the rows that are not within.

    Sources are those of the verdict: what is said beside it, and where that comes
    from, differs from row to row.
    """
    judged = in_columns(work)
    words, worse = _Words(work, notes=False), judged.verdict != WITHIN
    asked = words.of(np.flatnonzero(worse))
    said = {row: judgement for row, judgement in asked if worse[row]}
    return _judged(work, judged, said, _sources(work, judged, said, words))


def _judged(
    work: Work,
    judged: Judged,
    said: dict[int, Judgement],
    sources: list[list[dict[str, str]]],
) -> JudgedPart:
    part = work.part
    tests = [TESTS[code] or "" for code in part.rows["test"].tolist()]
    units = [work.rules[at].unit for at in work.rule_of.tolist()]
    return JudgedPart(
        part.start, part.ids, tests, part.rows, judged, units, said, sources
    )


def in_columns(work: Work) -> Judged:
    """Judge every row without words."""
    rows = len(work.part.rows)
    judged = Judged(np.zeros(rows, np.uint8), *np.full((4, rows), np.nan))
    columns = columns_of(work.part.rows, work.part.texts)
    for rule, places in _by_rule(work):
        found = judge_columns(rule, columns.part(places), work.lowest.part(places))
        for name in Judged._fields:
            getattr(judged, name)[places] = getattr(found, name)
    return judged


def _by_rule(work: Work) -> Iterator[tuple[Rule, Places]]:
    """Yield the rules of a part's own rows with these, which rise."""
    order = np.argsort(work.rule_of, kind="stable")
    own = len(work.rules) - len(work.far.rules)
    ends = np.searchsorted(work.rule_of[order], np.arange(1, own))
    for rule, places in zip(work.rules, np.split(order, ends), strict=False):
        if len(places):
            yield rule, places


def _bands(work: Work) -> Places:
    """Return the assigned-error band of each row, from 1: each has its own source."""
    bands = np.zeros(len(work.part.rows), np.intp)
    if not has(work.part.rows, "bands"):
        return bands
    columns = columns_of(work.part.rows, work.part.texts)
    for rule, places in _by_rule(work):
        bands[places] = assigned_bands(rule, columns.part(places)) + 1
    return bands


def _sources(
    work: Work, judged: Judged, said: dict[int, Judgement], words: "_Words"
) -> list[list[dict[str, str]]]:
    """Return the citations of each row.

    Rows within that are of one kind share them, so that one of them is asked.
    """
    kinds: list[NDArray[Any]] = [work.rule_of, work.group >= 0, _bands(work)]
    rows = work.part.rows
    kinds += [rows[n] for n in ("outcome", *WORDS) if has(rows, n)]
    kinds += [np.isnan(rows["low"]), np.isnan(rows["high"])]
    kinds += [np.isnan(judged.limit_low), np.isnan(judged.limit_high)]
    kind = np.zeros(len(rows), np.int64)
    for column in kinds:
        kind = kind * (int(column.max(initial=0)) + 1) + column
    within = np.flatnonzero(judged.verdict == WITHIN)
    _, first, inverse = np.unique(kind[within], return_index=True, return_inverse=True)
    asked = dict(words.of(within[first]))
    found = [asked[row].cite for row in within[first].tolist()]
    sources: list[list[dict[str, str]]] = [[]] * len(rows)
    for row, at in zip(within.tolist(), inverse.tolist(), strict=True):
        sources[row] = found[at]
    for row, judgement in said.items():
        sources[row] = judgement.cite
    return sources


class _Words:
    """Asks the scalar core for judgements, each with all that it is compared with."""

    def __init__(self, work: Work, *, notes: bool = True) -> None:
        self._work, self._notes = work, notes
        members = np.bincount(work.group[work.group >= 0], minlength=len(work.members))
        self._whole = (members == work.members).tolist()
        self._order = np.argsort(work.group, kind="stable")
        self._begins = np.searchsorted(
            work.group[self._order], np.arange(len(work.members) + 1)
        )
        numbers, rows, rules = work.far
        far = zip(numbers.tolist(), rows, rules.tolist(), strict=True)
        self._far = {number: (row, rule) for number, row, rule in far}

    def of(self, rows: Places) -> Iterator[tuple[int, Judgement]]:
        """Yield the rows with their judgements; perhaps others of their groups too."""
        done: set[int] = set()
        groups = self._work.group[rows]
        for row, group in zip(rows.tolist(), groups.tolist(), strict=True):
            if group < 0:
                yield row, judge([self._item(row)], notes=self._notes)[0]
            elif not self._whole[group] and group not in self._work.counted:
                yield row, self._among_delegates(row, group)
            elif group not in done:
                done.add(group)
                yield from self._whole_group(group)

    def _whole_group(self, group: int) -> Iterator[tuple[int, Judgement]]:
        begin, end = self._begins[group], self._begins[group + 1]
        here = self._order[begin:end].tolist()
        start = self._work.part.start
        every = self._work.counted.get(group)
        numbers = [row + start for row in here] if every is None else every.tolist()
        judged = dict(zip(numbers, self._judged(numbers), strict=True))
        return ((row, judged[row + start]) for row in here)

    def _among_delegates(self, row: int, group: int) -> Judgement:
        """Judge a row among those by which the lowest of its group is the same."""
        number = self._work.part.start + row
        numbers = sorted({number, *self._work.delegates[group].tolist()})
        return self._judged(numbers)[numbers.index(number)]

    def _judged(self, numbers: Sequence[int]) -> list[Judgement]:
        """Judge rows of the file, here or far, as one group."""
        start = self._work.part.start
        items = [
            self._of(number) if number in self._far else self._item(number - start)
            for number in numbers
        ]
        return judge(items, notes=self._notes)

    def _of(self, number: int) -> tuple[Rule, Reading]:
        row, rule = self._far[number]
        return self._work.rules[rule], reading_of(row, str(number), written(row))

    def _item(self, row: int) -> tuple[Rule, Reading]:
        part = self._work.part
        values = part.ids[row], part.values[row], part.texts
        reading = reading_of(part.rows[row], *values)
        return self._work.rules[self._work.rule_of[row]], reading
