"""Everything that needs no other reading: gates, derived values, the correction."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.judging.batch.codes import BROKE_DOWN, OUTSIDE, UNJUDGED
from models.judging.batch.columns import Readings
from models.judging.batch.derive import derive
from models.judging.batch.gates import Part, applies, shut
from models.judging.batch.group import Contenders
from models.judging.batch.isochor import carry_readings
from models.judging.batch.row_words import row_opens
from models.judging.batch.state import State
from models.judging.rules import Rule


def prepare(rule: Rule, columns: Readings) -> State:
    """Take the path to the bounds, in the order of `decide`."""
    state = State(rule, columns)
    state.find(columns.outcome == BROKE_DOWN, OUTSIDE)
    _pass_gates(state, rule.first_gates)
    _derive(state, [word for word in rule.derive if not word.get("after")])
    along = rule.correction["by"] == "isochor"
    failed = carry_readings(state) if along else state.correct()
    state.find(failed, UNJUDGED)
    _derive(state, [word for word in rule.derive if word.get("after")])
    _pass_gates(state, rule.late_gates)
    state.active = state.verdict == 0
    return state


def _pass_gates(state: State, parts: Sequence[Part]) -> None:
    for part in parts:
        state.find(_shut(state, part), UNJUDGED)


def _shut(state: State, part: Part) -> NDArray[Any]:
    if "series" in part:
        return np.asarray(~row_opens(part, state) & applies(part, state.columns))
    if part.get("not_zero"):
        zero = state.number & (state.columns.high == 0)
        return np.asarray(zero & applies(part, state.columns))
    return shut(part, state.columns, state.value)


def pass_last_gates(state: State) -> None:
    """Withhold the verdict where a last gate does not open; outside stays outside."""
    for part in state.rule.last_gates:
        withheld = _shut(state, part) & (state.verdict != OUTSIDE)
        state.verdict[withheld] = UNJUDGED


def withhold_beyond_ranges(state: State) -> None:
    """Withhold the verdict on a number at which no accuracy is stated."""
    beyond = state.columns.beyond_ranges
    if state.rule.decision == "simple" or not beyond.any():
        return
    withheld = (beyond != 0) & state.number & (state.verdict != OUTSIDE)
    state.verdict[withheld] = UNJUDGED


def _derive(state: State, words: Sequence[Part]) -> None:
    for word in words:
        derive(state, word)
    for word in words:
        lost = np.isnan(state.derived[word["name"]].shown)
        state.find(lost & applies(word, state.columns), UNJUDGED)


def contenders(rule: Rule, columns: Readings) -> Contenders:
    """Return the readings that may be compared with others, in the rule's unit."""
    with np.errstate(all="ignore"):
        state = prepare(rule, columns)
        rows = np.flatnonzero(state.active & state.number)
        of = state.measured.part(rows)
        return Contenders(rows, of.low, of.high, of.expanded, of.relative)
