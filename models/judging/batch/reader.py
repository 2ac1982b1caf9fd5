"""The column-wise reader: gates, correction and bounds over many rows at once."""

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from models.judging.batch.check import check_columns
from models.judging.batch.codes import UNJUDGED, Mask
from models.judging.batch.columns import Judged, Readings
from models.judging.batch.gates import applies
from models.judging.batch.group import Lowest, lowest_of
from models.judging.batch.limits import compare_withstand, find_at_least, find_at_most
from models.judging.batch.relation import compare_with_lowest
from models.judging.batch.relay import compare_times
from models.judging.batch.state import State, contenders, prepare
from models.judging.rules import Rule

ROWS_AT_ONCE = 16384  # so that a part's columns stay in a processor's cache


def judge_columns(
    rule: Rule, columns: Readings, lowest: Lowest | None = None
) -> Judged:
    """Judge many readings of one rule.

    *lowest*, where it is given, goes before `columns.group`: groups may reach beyond
    these rows and this rule. Raises InputError, a fault a place ("row 3, column low",
    counted from zero), for what cannot be a reading of the rule's procedure.
    """
    check_columns(rule, columns)
    if lowest is None and rule.compares:
        lowest = lowest_of(columns.group, contenders(rule, columns))
    step = columns.rows if rule.compares else ROWS_AT_ONCE
    judged = Judged(np.empty(columns.rows, np.uint8), *np.empty((4, columns.rows)))
    with np.errstate(all="ignore"):  # NaN and infinity are meant
        for start in range(0, columns.rows, step or 1):
            part = slice(start, start + step)
            found = _judge_part(rule, columns.part(part), lowest)
            for name in Judged._fields:
                getattr(judged, name)[part] = getattr(found, name)
    return judged


def _judge_part(rule: Rule, columns: Readings, lowest: Lowest | None) -> Judged:
    """Judge as `judge_checked` does: gates, correction, then the bounds."""
    state = prepare(rule, columns)
    state.lowest = lowest
    for bound in rule.bounds:
        where = state.active & applies(bound, columns)
        COMPARE[bound["kind"]](state, bound, where)
    state.find(state.verdict == 0, UNJUDGED)
    return Judged(
        state.verdict,
        state.measured.shown,
        state.limit_low,
        state.limit_high,
        np.where(state.exact, state.measured.expanded, np.nan),
    )


def _compare_limit(state: State, bound: Mapping[str, Any], where: Mask) -> None:
    """Compare numbers with a minimum or maximum; an outcome has none."""
    state.find(where & ~state.number, UNJUDGED)
    where = where & state.number
    limit = np.array(bound["value"], np.float64)
    state.narrow(where, **{bound["kind"]: limit})
    compare = find_at_least if bound["kind"] == "low" else find_at_most
    compare(state, state.measured, limit, where)


COMPARE: Mapping[str, Callable[[State, Mapping[str, Any], Mask], None]] = {
    "low": _compare_limit,
    "high": _compare_limit,
    "high_of_lowest": compare_with_lowest,
    "withstand": compare_withstand,
    "operating_time": compare_times,
}
