"""A part of a readings file with all that it needs to be judged, here or elsewhere."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.analysis.group_lowest import DELEGATES, Groups, company_of
from models.analysis.row_rules import RowRules
from models.analysis.spool import Kept, Spool
from models.analysis.typed_rows import Places, Rows, has
from models.judging import Rule
from models.judging.batch import Lowest


class Far(NamedTuple):
    """Rows outside a part that its rows are compared with."""

    numbers: Places
    rows: Rows
    rules: Places


class Work(NamedTuple):
    """A part to be judged.

    *rule_of*: each row's place in *rules*. *group*: each row's place among the
    groups here, negative without company; *members*: how many a group has in the
    whole file; *delegates*: rows of the file by which its lowest is found again;
    *counted*: all rows of a group that lies in other parts too, where they are needed.
    """

    part: Kept
    rules: Sequence[Rule]
    rule_of: Places
    lowest: Lowest
    group: Places
    members: Places
    delegates: NDArray[np.int64]
    counted: Mapping[int, Places]
    far: Far


def work_of(
    part: Kept, row_rules: RowRules, groups: Groups, spool: Spool | None = None
) -> Work:
    """Return a part with the rules and the company of its rows.

    *spool* None: the part is all there is.
    """
    rules: list[Rule] = []
    rule_of = np.zeros(len(part.rows), np.intp)
    for rule, places in row_rules.rules(part.rows, part.texts):
        rule_of[places] = len(rules)
        rules.append(rule)
    group = np.full(len(part.rows), -1, np.intp)
    if not has(part.rows, "contends"):
        return _without_company(part, rules, rule_of)
    lowest, at = company_of(groups.table, part.rows, part.start)
    places, inverse = np.unique(at, return_inverse=True)
    group[lowest.rows] = inverse
    here = groups.table[places]
    delegates = np.stack([here[name] for name in DELEGATES], axis=1)
    beyond = here["members"] > np.bincount(inverse, minlength=len(here))
    counted = {
        int(at): members
        for at in np.flatnonzero(beyond)
        if len(members := groups.members_of(here["group"][at]))
    }
    numbers, rows = _far([delegates.reshape(-1), *counted.values()], part, spool)
    far_rules = [row_rules.rule(row) for row in rows]
    far_places = np.arange(len(rules), len(rules) + len(far_rules))
    return Work(
        part,
        [*rules, *far_rules],
        rule_of,
        lowest,
        group,
        here["members"],
        delegates,
        counted,
        Far(numbers, rows, far_places),
    )


def _without_company(part: Kept, rules: Sequence[Rule], rule_of: Places) -> Work:
    none, nothing = np.zeros(0, np.intp), np.zeros(0)
    return Work(
        part,
        rules,
        rule_of,
        Lowest(none, np.zeros(0, np.bool_), *[nothing] * 5),
        np.full(len(part.rows), -1, np.intp),
        none,
        none.reshape(0, len(DELEGATES)),
        {},
        Far(none, part.rows[:0], none),
    )


def _far(
    wanted: Sequence[Places], part: Kept, spool: Spool | None
) -> tuple[Places, Rows]:
    """Return the numbers of *wanted* rows outside the part, and these rows."""
    numbers = np.unique(np.concatenate(wanted))
    outside = (numbers < part.start) | (numbers >= part.start + len(part.rows))
    numbers = numbers[outside]
    return numbers, spool.fetch(numbers) if spool else part.rows[:0]
