"""A readings file from its parts to judgements, in memory that does not grow with it.

The whole file is checked and put on disk as numbers before anything is judged, so
that every fault is said at once and no half result is written.
"""

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from itertools import islice
from typing import NamedTuple

import numpy as np

from models.analysis.check_part import TWICE, Checked, PartChecker
from models.analysis.group_lowest import Groups, KnownGroups
from models.analysis.judge_part import JudgedPart
from models.analysis.parts import Misplaced, Source
from models.analysis.readings_file import MOST_FAULTS
from models.analysis.row_rules import RowRules
from models.analysis.spool import Spool
from models.analysis.typed_rows import columns_of, fields_of, has
from models.analysis.work import Work, work_of
from models.errors import InputError
from models.judging import Criteria, Rule
from models.judging.batch import contenders

Watch = Callable[[int], None]  # is told how many rows have gone by
# Judges parts, here or elsewhere, and gives them back in their order.
Judge = Callable[[Iterable[Work]], Iterator[JudgedPart]]


class CheckedFile(NamedTuple):
    """A readings file in which nothing is wrong."""

    spool: Spool
    groups: Groups
    row_rules: RowRules

    @property
    def rows(self) -> int:
        """Return how many readings there are."""
        return self.spool.length

    def work(self) -> Iterator[Work]:
        """Yield what is to be judged, in the order of the file."""
        for part in self.spool.parts():
            yield work_of(part, self.row_rules, self.groups, self.spool)


@contextmanager
def checked_file(
    source: Source, criteria: Criteria, watch: Watch
) -> Iterator[CheckedFile]:
    """Check a whole file; it is on disk until the block is left.

    Raises InputError whose faults' fields are places, "line 3, column value".
    """
    row_rules = RowRules(criteria)
    checker = PartChecker(source.header, source.word)
    groups = KnownGroups()
    with Spool(fields_of(source.header)) as spool:
        try:
            faults = _take_in(source, checker, spool, groups, row_rules, watch)
            faults += [
                checker.at(place, TWICE, "id", _twice(source.word, each, first))
                for place, each, first in islice(spool.twice(), MOST_FAULTS)
            ]
            if faults:
                faults.sort(key=lambda fault: (fault.row, fault.rank))
                raise InputError(*[each.fault for each in faults[:MOST_FAULTS]])
            found = groups.found()
        finally:
            groups.close()
        yield CheckedFile(spool, found, row_rules)


def _take_in(
    source: Source,
    checker: PartChecker,
    spool: Spool,
    groups: KnownGroups,
    row_rules: RowRules,
    watch: Watch,
) -> list[Misplaced]:
    """Read every part; where there are faults, ids only are looked at from then on."""
    faults: list[Misplaced] = []
    for part in source.parts():
        checked = checker.check(part)
        faults += checked.faults
        if not faults:
            find_contenders(checked, spool.length, groups, row_rules)
        spool.add(
            checked.places, checked.ids, checked.values, checked.rows, checked.texts
        )
        watch(len(checked.ids))
        if len(faults) >= MOST_FAULTS:
            break
    return faults


def find_contenders(
    checked: Checked, start: int, groups: KnownGroups, row_rules: RowRules
) -> None:
    """Note the readings of a part that are compared with others."""
    rows, texts = checked.rows, checked.texts
    if not has(rows, "group"):
        return
    grouped = np.flatnonzero(rows["group"] != b"")
    columns = columns_of(rows, texts)
    for rule, places in row_rules.rules(rows[grouped], texts):
        if rule.compares:
            here = grouped[places]
            among = contenders(rule, columns.part(here))
            among = among._replace(rows=here[among.rows])
            groups.add(rows, start, among, counted=counts_group(rule))


def counts_group(rule: Rule) -> bool:
    """Return whether the words of a judgement count the readings of its group."""
    return any("odd_share" in bound for bound in rule.bounds)


def _twice(word: str, each: str, first: object) -> str:
    return f"'{each}' was used in {word} {first} already."
