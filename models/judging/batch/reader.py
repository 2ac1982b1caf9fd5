"""The column-wise reader: gates, correction and bounds over many rows at once."""

from collections.abc import Callable, Mapping

import numpy as np

from models.judging.batch.bands import compare_angles, compare_bands
from models.judging.batch.check import check_columns
from models.judging.batch.codes import UNJUDGED, Mask
from models.judging.batch.columns import Judged, Readings
from models.judging.batch.gates import Part, applies
from models.judging.batch.group import Lowest, lowest_of
from models.judging.batch.limits import (
    compare_baseline,
    compare_high,
    compare_low,
    compare_near,
)
from models.judging.batch.measured import Measured
from models.judging.batch.outcomes import compare_expected, compare_withstand
from models.judging.batch.prepare import (
    contenders,
    pass_last_gates,
    prepare,
    withhold_beyond_ranges,
)
from models.judging.batch.relation import compare_over_lowest, compare_times_lowest
from models.judging.batch.relay import compare_times
from models.judging.batch.state import State
from models.judging.rules import Rule

ROWS_AT_ONCE = 16384  # so that a part's columns stay in a processor's cache

# An outcome is compared with the first of these only, a number with all.
OF_OUTCOMES: Mapping[str, Callable[[State, Part, Mask], None]] = {
    "withstand": compare_withstand,
    "operating_time": compare_times,
    "expected": compare_expected,
}
OF_NUMBERS: Mapping[str, Callable[[State, Part, Measured, Mask], None]] = {
    "low": compare_low,
    "high": compare_high,
    "near": compare_near,
    "near_angle": compare_angles,
    "bands": compare_bands,
    "of_baseline": compare_baseline,
    "high_of_lowest": compare_times_lowest,
    "over_lowest": compare_over_lowest,
}


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
    """Judge as `decide` does: gates, derived values, correction, then the bounds."""
    state = prepare(rule, columns)
    state.lowest = lowest
    for bound in rule.bounds:
        _compare(state, bound, state.active & applies(bound, columns))
    state.find(state.verdict == 0, UNJUDGED)
    withhold_beyond_ranges(state)
    pass_last_gates(state)
    return Judged(
        state.verdict,
        state.measured.shown,
        state.limit_low,
        state.limit_high,
        np.where(state.exact, state.measured.expanded, np.nan),
    )


def _compare(state: State, bound: Part, where: Mask) -> None:
    """Compare with one bound what it names; what is not known is unjudged."""
    kind = bound["kind"]
    if kind in OF_OUTCOMES:
        OF_OUTCOMES[kind](state, bound, where)
        return
    of = state.value(bound.get("of"))
    known = ~np.isnan(of.shown) if bound.get("of") else state.number
    state.find(where & ~known, UNJUDGED)
    OF_NUMBERS[kind](state, bound, of, where & known)
