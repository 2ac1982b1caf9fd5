"""The column-wise reader of a rule: many readings of one rule at once.

Verdicts and numbers are those of `judge`, worked out in the same order; the words of
a judgement are not made here: `judge_checked` gives them for rows that are asked for.
Numpy is known to this file of the core alone.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from itertools import islice, product
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.errors import Fault, InputError
from models.judging.accuracy import COVERAGE
from models.judging.choices import METHODS, SUPPLIES
from models.judging.near import RELATIVE
from models.judging.quantities import UNITS
from models.judging.rules import Rule
from models.judging.settings import LARGEST_MULTIPLE, setting_fault
from models.judging.timing_band import seen, unwidened
from models.judging.timing_options import MEASURED
from models.judging.values import LARGEST, Outcome
from models.judging.verdicts import WORST_FIRST, Verdict

Numbers = NDArray[np.float64]
Codes = NDArray[np.integer[Any]]
Found = NDArray[np.uint8]
Mask = NDArray[np.bool_]

ANOTHER = "another"  # a word that is known but that no rule has

# What a code means is its place here; nought is none. The greater of two verdicts
# is the worse one.
VERDICT_CODES: Sequence[Verdict | None] = (None, *reversed(WORST_FIRST))
OUTCOME_CODES: Sequence[Outcome | None] = (None, *Outcome)
UNIT_CODES: Sequence[str | None] = (None, *UNITS)
WORD_CODES: Mapping[str, Sequence[str | None]] = {
    "supply": (None, *SUPPLIES, ANOTHER),
    "method": (None, *METHODS, ANOTHER),
}
WITHIN, UNJUDGED, MARGINAL, OUTSIDE = (
    np.uint8(VERDICT_CODES.index(verdict))
    for verdict in (
        Verdict.WITHIN,
        Verdict.UNJUDGED,
        Verdict.MARGINAL,
        Verdict.OUTSIDE,
    )
)
BROKE_DOWN = OUTCOME_CODES.index(Outcome.BROKE_DOWN)
NO_TRIP = OUTCOME_CODES.index(Outcome.NO_TRIP)
UNKNOWN = np.array(np.nan)
NONE = np.array(0)
NEVER = np.zeros((), np.bool_)
ALWAYS = ~NEVER
ALONE = np.array(-1)
MOST_FAULTS = 1000  # listed
ROWS_AT_ONCE = 16384  # so that a part's columns stay in a processor's cache


@dataclass(frozen=True, kw_only=True)
class Readings:
    """Readings in columns: arrays of a number a row, or one number for all rows.

    NaN is what is not known. A number has *low* and *high* alike, one over range no
    *high*, one under range no *low*, an outcome neither. *unit* and *accuracy_unit*
    (nought: that of the value) are places in UNIT_CODES, *outcome* in OUTCOME_CODES.
    *conditions* by name; `supply` and `method` hold places in WORD_CODES. Rows with
    the same *group* are compared with each other, those below nought with none.
    """

    low: Numbers
    high: Numbers
    unit: Codes = field(default_factory=NONE.copy)
    outcome: Codes = field(default_factory=NONE.copy)
    accuracy_pct: Numbers = field(default_factory=UNKNOWN.copy)
    accuracy_fixed: Numbers = field(default_factory=UNKNOWN.copy)
    accuracy_unit: Codes = field(default_factory=NONE.copy)
    conditions: Mapping[str, NDArray[Any]] = field(default_factory=dict)
    group: Codes = field(default_factory=ALONE.copy)

    @property
    def rows(self) -> int:
        """Return how many readings there are."""
        return len(self.low)

    def columns(self) -> dict[str, NDArray[Any]]:
        """Return every column by its name, the conditions among them."""
        own = {f.name: getattr(self, f.name) for f in fields(self)}
        return {**own.pop("conditions"), **own}

    def part(self, rows: slice | NDArray[np.intp]) -> "Readings":
        """Return some of the rows."""
        cut = {
            name: column[rows] if column.ndim else column
            for name, column in self.columns().items()
        }
        conditions = {name: cut.pop(name) for name in self.conditions}
        return replace(self, conditions=conditions, **cut)

    def condition(self, name: str) -> NDArray[Any]:
        """Return a condition; not known where there is no such column."""
        absent = NONE if name in WORD_CODES else UNKNOWN
        return self.conditions.get(name, absent)


class Judged(NamedTuple):
    """Judgements in columns: places in VERDICT_CODES, and numbers; NaN is null."""

    verdict: Found
    corrected: Numbers
    limit_low: Numbers
    limit_high: Numbers
    uncertainty: Numbers


class Contenders(NamedTuple):
    """Readings that can be judged and so may be the lowest of their group.

    Numbers as `State` has them: U and U over the value are NaN where not known.
    """

    rows: NDArray[np.intp]
    low: Numbers
    high: Numbers
    expanded: Numbers
    relative: Numbers


class Lowest(NamedTuple):
    """For each of *rows*, which have company, the `Lowest` of its group."""

    rows: NDArray[np.intp]
    own: Mask  # whether the lowest is the row itself
    low: Numbers
    high: Numbers
    expanded: Numbers  # U of the lowest
    relative: Numbers  # NaN where it is not known for all that may be the lowest

    def part(self, rows: NDArray[np.intp]) -> "Lowest":
        """Return what falls to some of the rows, which rise, by their places."""
        places = np.searchsorted(rows, self.rows)
        there = np.append(rows, -1)[places] == self.rows
        return Lowest(places[there], *(column[there] for column in self[1:]))


def judge_columns(
    rule: Rule, columns: Readings, lowest: Lowest | None = None
) -> Judged:
    """Judge many readings of one rule.

    *lowest*, where it is given, goes before `columns.group`: groups may reach beyond
    these rows and this rule. Raises InputError, a fault a place ("row 3, column low",
    counted from nought), for what cannot be a reading of the rule's procedure.
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


def contenders(rule: Rule, columns: Readings) -> Contenders:
    """Return the readings that may be compared with others, in the rule's unit."""
    with np.errstate(all="ignore"):
        state = _opened(rule, columns)
        rows = np.flatnonzero(state.active & state.number)
        return Contenders(
            rows,
            state.low[rows],
            state.high[rows],
            state.expanded[rows],
            _relative(state, rows),
        )


def lowest_of(group: Codes, among: Contenders) -> Lowest:
    """Return the lowest of each group for those of *among* that have company."""
    keys = group[among.rows] if group.ndim else group.repeat(len(among.rows))
    order = np.lexsort((among.low, among.high, keys))
    order = order[keys[order] >= 0]
    _, begins, members = np.unique(keys[order], return_index=True, return_counts=True)
    order = order[np.repeat(members > 1, members)]
    members = members[members > 1]
    begins = np.cumsum(members) - members
    first = np.repeat(order[begins], members)
    low, high = among.low[order], among.high[first]
    relative = np.where(low <= high, among.relative[order], 0.0)
    return Lowest(
        among.rows[order],
        order == first,
        _of_each(np.minimum, low, begins, members),
        high,
        among.expanded[first],
        _of_each(np.maximum, relative, begins, members),
    )


def _of_each(
    least: np.ufunc,
    column: Numbers,
    begins: NDArray[np.intp],
    members: NDArray[np.intp],
) -> Numbers:
    """Return for each row the least, or the greatest, of its group."""
    if not members.size:
        return column
    return np.repeat(least.reduceat(column, begins), members)


def check_columns(rule: Rule, columns: Readings) -> None:
    """Raise InputError with the places of all that cannot be judged at all."""
    faults: list[Fault] = []
    for name, column in columns.columns().items():
        if column.ndim and column.shape != (columns.rows,):
            said = f"{column.shape} where {columns.rows} rows are."
            faults.append(Fault(field=f"column {name}", message=said))
        _refuse(faults, name, _impossible(name, column), "is no such code or number.")
    if not faults:
        _check_values(rule, columns, faults)
    if faults:
        raise InputError(*faults[:MOST_FAULTS])


def _impossible(name: str, column: NDArray[Any]) -> Mask:
    """Return where a column holds what it cannot; NaN, not known, is no such thing."""
    if name == "group":
        return np.asarray(column.dtype.kind not in "iu")
    words = {
        "unit": UNIT_CODES,
        "accuracy_unit": UNIT_CODES,
        "outcome": OUTCOME_CODES,
        **WORD_CODES,
    }
    if name not in words:
        numbers = column.dtype.kind in "fiu"
        return np.asarray(np.abs(column) >= LARGEST if numbers else ALWAYS)
    if column.dtype.kind not in "iu":
        return ALWAYS
    return np.asarray((column < 0) | (column >= len(words[name])))


def _check_values(rule: Rule, columns: Readings, faults: list[Fault]) -> None:
    """Check that each row's units fit the rule, and that its numbers fit together."""
    of = None if rule.unit is None else UNITS[rule.unit].quantity
    fits = np.array([u is not None and UNITS[u].quantity == of for u in UNIT_CODES])
    number = columns.outcome == 0
    low, high = columns.low, columns.high
    _refuse(faults, "unit", number & ~fits[columns.unit], "does not fit this test.")
    either = (columns.accuracy_unit == 0) | fits[columns.accuracy_unit]
    _refuse(faults, "accuracy_unit", ~either, "does not fit this test.")
    halves = np.isnan(columns.accuracy_pct) != np.isnan(columns.accuracy_fixed)
    _refuse(faults, "accuracy_pct", halves, "is given without the other half.")
    for name in ("low", "high", "accuracy_pct", "accuracy_fixed"):
        _refuse(faults, name, getattr(columns, name) < 0, "must not be negative.")
    if not np.all(number & (low == high)):
        none_known = np.isnan(low) & np.isnan(high)
        apart = (low != high) & ~np.isnan(low) & ~np.isnan(high)
        _refuse(faults, "low", number & none_known, "is no number, nor is high.")
        _refuse(faults, "low", number & apart, "is another number than high.")
        _refuse(faults, "low", ~number & ~none_known, "is given beside an outcome.")


def _refuse(faults: list[Fault], name: str, bad: NDArray[Any], message: str) -> None:
    if not bad.any():
        return
    places = [f"row {row}, " for row in np.flatnonzero(bad)] if bad.ndim else [""]
    faults.extend(
        Fault(field=f"{place}column {name}", message=message)
        for place in islice(places, MOST_FAULTS)
    )


def _opened(rule: Rule, columns: Readings) -> "_State":
    """Pass the gates and correct: everything that needs no other reading."""
    state = _State(rule, columns)
    state.find(columns.outcome == BROKE_DOWN, OUTSIDE)
    gated = _gated(rule, columns) | (state.number & np.isnan(state.factor))
    state.find(gated, UNJUDGED)
    state.active = state.verdict == 0
    return state


def _judge_part(rule: Rule, columns: Readings, lowest: Lowest | None) -> Judged:
    """Judge as `judge_checked` does: gates, correction, then the bounds."""
    state = _opened(rule, columns)
    state.lowest = lowest
    for bound in rule.bounds:
        _apply(state, bound, state.active & _applies(bound, columns))
    state.find(state.verdict == 0, UNJUDGED)
    return Judged(
        state.verdict,
        state.shown,
        state.limit_low,
        state.limit_high,
        np.where(state.exact, state.expanded, np.nan),
    )


class _State:
    """Readings on their way to verdicts, as `State` has them; U not known is NaN.

    Whatever is given for one row alone stands for all of them.
    """

    def __init__(self, rule: Rule, columns: Readings) -> None:
        """Bring values and U to the rule's unit and the reference temperature."""
        self.rule, self.columns = rule, columns
        self.number: Mask = np.broadcast_to(columns.outcome == 0, columns.rows)
        self.exact: Mask = columns.low == columns.high
        self.factor = _factor(rule.correction, columns.condition("temperature_c"))
        value = columns.low
        if not self.exact.all():
            value = np.where(np.isnan(value), columns.high, value)
        to = UNIT_CODES.index(rule.unit)
        times, over = TIMES[columns.unit, to], OVER[columns.unit, to]
        self.shown: Numbers = value * times / over * self.factor
        self.expanded = self._uncertainty(value, times, over)
        self.guard: Numbers = np.where(np.isnan(self.expanded), 0.0, self.expanded)
        self.low, self.high = self.shown, self.shown
        if not self.exact.all():  # nothing measured here is negative
            self.low = np.where(np.isnan(columns.low), 0.0, self.shown)
            self.high = np.where(np.isnan(columns.high), np.inf, self.shown)
        self.verdict: Found = np.zeros(columns.rows, np.uint8)
        self.active: Mask = np.ones(columns.rows, np.bool_)
        self.limit_low: Numbers = np.full(columns.rows, np.nan)
        self.limit_high: Numbers = np.full(columns.rows, np.nan)
        self.lowest: Lowest | None = None

    def _uncertainty(self, value: Numbers, times: Numbers, over: Numbers) -> Numbers:
        """Return U (k = 2); without a correction U is that of the value as read."""
        columns = self.columns
        if self.rule.decision == "simple" or np.all(np.isnan(columns.accuracy_pct)):
            return np.full(columns.rows, np.nan)
        between = (columns.accuracy_unit, columns.unit)
        fixed = columns.accuracy_fixed * TIMES[between] / OVER[between]
        half_width = columns.accuracy_pct / 100.0 * value + fixed
        expanded = COVERAGE * half_width / np.sqrt(3.0) * times / over
        known = np.where(np.isnan(self.factor), 1.0, self.factor)
        return np.asarray(expanded * known)

    def find(self, where: NDArray[Any], verdict: np.uint8 | Found) -> None:
        """Add a finding: the worst one stays."""
        found = np.multiply(where, verdict, dtype=np.uint8)
        np.maximum(self.verdict, found, out=self.verdict)

    def narrow(
        self,
        where: Mask,
        *,
        low: float | Numbers | None = None,
        high: float | Numbers | None = None,
    ) -> None:
        """Keep the tightest limits."""
        if low is not None:
            np.fmax(self.limit_low, np.where(where, low, np.nan), out=self.limit_low)
        if high is not None:
            np.fmin(self.limit_high, np.where(where, high, np.nan), out=self.limit_high)


def _at_least(a: Numbers | float, b: Numbers | float) -> Mask:
    """Return `near.at_least`; it may be any of them that is infinite or NaN."""
    tolerance = RELATIVE * np.maximum(np.abs(a), np.abs(b))
    close = (np.abs(np.subtract(b, a)) <= tolerance) & np.less(b, np.inf)
    return np.asarray(np.greater_equal(a, b) | close)


def _conversions() -> tuple[Numbers, Numbers]:
    """Return what a value in one unit (row) takes to another (column): times, over."""
    size = len(UNIT_CODES)
    times, over = np.ones((size, size)), np.ones((size, size))
    for at, to in product(range(1, size), repeat=2):
        given, wanted = UNITS[UNIT_CODES[at] or ""], UNITS[UNIT_CODES[to] or ""]
        times[at, to] = given.times * wanted.over
        over[at, to] = given.over * wanted.times
    return times, over


TIMES, OVER = _conversions()


def _factor(correction: Mapping[str, Any], temperature_c: Numbers) -> Numbers:
    """Return the factors of `correction_factor`; NaN where there is none."""
    if correction["by"] == "none":
        return np.array(1.0)
    if correction["by"] == "metal":
        above = correction["k"] + temperature_c
        whole = correction["k"] + correction["reference_c"]
        return np.asarray(np.where(above > 0, whole / above, np.nan))
    points, factors = np.array(correction["points"], np.float64).T
    logs = np.log(factors)
    joined = np.interp(temperature_c, points, logs, left=np.nan, right=np.nan)
    return np.asarray(np.exp(joined))


def _applies(part: Mapping[str, Any], columns: Readings) -> NDArray[Any]:
    """Return where *part*'s `when` fits the conditions."""
    fits: NDArray[Any] = ALWAYS
    for name, value in (part.get("when") or {}).items():
        column, words = columns.condition(name), WORD_CODES.get(name)
        if words is None:
            fits = fits & (column == value)
        elif value in words:
            fits = fits & (column == words.index(value))
        else:
            fits = NEVER
    return fits


def _gated(rule: Rule, columns: Readings) -> NDArray[Any]:
    """Return where a reason holds from the start, or a gate does not open."""
    found: NDArray[Any] = NEVER
    for part in rule.unjudged:
        found = found | _applies(part, columns)
    for gate in rule.gates:
        value = columns.condition(gate["on"])
        if gate.get("at_least") is not None:
            shut = ~_at_least(value, gate["at_least"])
        else:
            shut = value == 0 if gate["on"] in WORD_CODES else np.isnan(value)
        found = found | (shut & _applies(gate, columns))
    return found


def _apply(state: _State, bound: Mapping[str, Any], where: Mask) -> None:
    kind = bound["kind"]
    if kind == "withstand":
        _withstand(state, bound, where)
    elif kind == "operating_time":
        _timing(state, bound, where)
    elif kind == "high_of_lowest":
        _compare_lowest(state, bound, where)
    else:
        state.find(where & ~state.number, UNJUDGED)
        where = where & state.number
        limit = np.array(bound["value"], np.float64)
        state.narrow(where, **{kind: limit})
        (_compare_low if kind == "low" else _compare_high)(state, limit, where)


def _compare_low(state: _State, limit: Numbers, where: Mask) -> None:
    met = _at_least(state.low - state.guard, limit) | (limit <= 0)
    missed = ~_at_least(state.high + state.guard, limit)
    state.find(where, _between(state, met, missed))


def _compare_high(state: _State, limit: Numbers, where: Mask) -> None:
    met = _at_least(limit, state.high + state.guard)
    missed = ~_at_least(limit, state.low - state.guard)
    state.find(where, _between(state, met, missed))


def _between(state: _State, met: Mask, missed: Mask) -> Found:
    open_to = np.where(state.exact, MARGINAL, UNJUDGED)
    return np.where(met, WITHIN, np.where(missed, OUTSIDE, open_to))


def _withstand(state: _State, bound: Mapping[str, Any], where: Mask) -> None:
    level = bound["level_kv"]
    test_kv = state.columns.condition("test_kv")
    state.narrow(where, low=level)
    state.find(where & state.number, UNJUDGED)
    where = where & ~state.number
    reached = _at_least(test_kv, level)
    over = ~_at_least(level * (1 + bound["over_pct"] / 100), test_kv)
    held = _at_least(state.columns.condition("duration_s"), bound["hold_s"])
    state.find(where, np.where(reached, np.where(over, MARGINAL, WITHIN), UNJUDGED))
    state.find(where, np.where(held, WITHIN, UNJUDGED))


def _timing(state: _State, bound: Mapping[str, Any], where: Mask) -> None:
    set_a, dial = bound["pickup_a"], bound["time_dial"]
    if setting_fault("", set_a) or setting_fault("", dial):
        state.find(where, UNJUDGED)
        return
    if bound.get("against") == MEASURED:
        pickup_a = state.columns.condition("measured_pickup_a")
        bound = unwidened(bound)
        known = np.broadcast_to((pickup_a > 0) & (pickup_a < LARGEST), where.shape)
        state.find(where & ~known, UNJUDGED)
        where = where & known
    multiple = _multiple(bound, state.columns)
    excessive = multiple > LARGEST_MULTIPLE
    below = ~excessive & _at_least(1.0, multiple)
    timed = ~excessive & ~below & _at_least(multiple, bound["start_multiple"])
    state.find(where & ~below & ~timed, UNJUDGED)
    least, greatest = seen(bound, multiple)
    no_trip = state.columns.outcome == NO_TRIP
    unsaid = np.isinf(state.high) | ~_at_least(1.0, greatest)
    late = np.where(unsaid, UNJUDGED, OUTSIDE)
    state.find(where & below, np.where(no_trip, WITHIN, late))
    pct = _tolerance_pct(bound, multiple)
    state.find(where & timed & np.isnan(pct), UNJUDGED)
    where = where & timed & ~np.isnan(pct)
    _between_times(state, bound, where, pct, (least, greatest))


def _between_times(
    state: _State,
    bound: Mapping[str, Any],
    where: Mask,
    pct: Numbers,
    multiples: tuple[Numbers, Numbers],
) -> None:
    """Compare with the latest and the earliest time; *multiples*: seen at most."""
    slow, fast = (_expected(bound, multiple) for multiple in multiples)
    low = np.maximum(0.0, fast - np.maximum(pct / 100 * fast, bound["tolerance_s"]))
    high = slow + np.maximum(pct / 100 * slow, bound["tolerance_s"])
    endless = np.isinf(high)
    state.narrow(where, low=low)
    state.narrow(where & ~endless, high=high)
    no_trip = state.columns.outcome == NO_TRIP
    state.find(where & no_trip, np.where(endless, UNJUDGED, OUTSIDE))
    where = where & ~no_trip
    _compare_low(state, low, where)
    _compare_high(state, high, where & ~endless)


def _multiple(bound: Mapping[str, Any], columns: Readings) -> Numbers:
    """Return the multiples of the pickup that decides."""
    pickup_a: Numbers | float = bound["pickup_a"]
    if bound.get("against") == MEASURED:
        pickup_a = np.asarray(columns.condition("measured_pickup_a"), np.float64)
    return np.broadcast_to(columns.condition("applied_a") / pickup_a, columns.rows)


def assigned_bands(rule: Rule, columns: Readings) -> NDArray[np.intp]:
    """Return each row's place among the assigned-error bands; below nought: in none."""
    found = np.full(columns.rows, -1)
    for bound in rule.bounds:
        if bound.get("bands") is None or setting_fault("", bound["pickup_a"]):
            continue
        with np.errstate(all="ignore"):  # as in `judge_columns`
            found = _assigned_band(bound, _multiple(bound, columns))
    return found


def _assigned_band(bound: Mapping[str, Any], multiple: Numbers) -> NDArray[np.intp]:
    """Return the places of `timing_band.assigned_band`; below nought: in none."""
    found = np.full(multiple.shape, -1)
    for at, band in reversed(list(enumerate(bound["bands"]))):
        inside = _at_least(multiple, band["from"])  # at a border the first holds
        inside = inside & _at_least(band.get("to", np.inf), multiple)
        found = np.where(inside, at, found)
    return found


def _tolerance_pct(bound: Mapping[str, Any], multiple: Numbers) -> Numbers:
    """Return `timing_band.tolerance_pct`; NaN where no band holds the multiple."""
    pct = bound["tolerance_pct"]
    if bound.get("bands") is None:
        return np.full(multiple.shape, float(pct))
    times = [pct * band["times"] for band in bound["bands"]]
    return np.array([*times, np.nan])[_assigned_band(bound, multiple)]


def _expected(bound: Mapping[str, Any], multiple: Numbers) -> Numbers:
    """Return `timing_band.expected_time`."""
    ceiling = bound.get("ceiling_multiple")
    counted = multiple if ceiling is None else np.minimum(multiple, ceiling)
    seconds = _operating_time(bound["curve"], bound["time_dial"], counted)
    return np.maximum(
        np.where(counted <= 1, np.inf, seconds), bound.get("minimum_time_s") or 0.0
    )


def _operating_time(
    curve: Mapping[str, Any], time_dial: float, multiple: Numbers
) -> Numbers:
    """Return `curves.operating_time` for multiples above 1."""
    if curve["form"] == "definite":
        return np.full(multiple.shape, float(time_dial))
    power = np.power(multiple, curve["p"])
    return np.asarray(time_dial * (curve["a"] / (power - 1.0) + curve["b"]))


def _relative(state: _State, rows: NDArray[np.intp]) -> Numbers:
    """Return U over the value; NaN without an accuracy, and of nothing."""
    shown = state.shown[rows]
    return np.where(shown == 0, np.nan, state.expanded[rows] / shown)


def _compare_lowest(state: _State, bound: Mapping[str, Any], where: Mask) -> None:
    """At most so many times the lowest of the group; alone, by a maximum only."""
    maximum: NDArray[Any] = NEVER
    for other in state.rule.bounds:
        if other["kind"] == "high":
            maximum = maximum | _applies(other, state.columns)
    lowest, times = state.lowest, bound["times"]
    assert lowest is not None
    company = np.zeros(where.shape, np.bool_)
    company[lowest.rows] = True
    alone = where & ~company
    state.find(alone & ~(state.number & maximum), UNJUDGED)
    fixed = lowest.low == lowest.high
    exact = fixed & state.exact[lowest.rows]
    found = np.where(
        exact, _by_ratio(state, lowest, times), _open(state, lowest, times)
    )
    verdict, limit = np.zeros(where.shape, np.uint8), np.full(where.shape, np.nan)
    verdict[lowest.rows] = found
    limit[lowest.rows] = np.where(fixed, times * lowest.high, np.nan)
    state.narrow(where, high=limit)
    state.find(where, verdict)


def _by_ratio(state: _State, lowest: Lowest, times: float) -> Found:
    """Compare numbers: by U of the ratio where it is known, simply where not."""
    shown, high = state.shown[lowest.rows], lowest.high
    own, other = state.expanded[lowest.rows], lowest.expanded
    simply = np.where(_at_least(times * high, shown), WITHIN, OUTSIDE)
    ratio = shown / high
    expanded = ratio * np.hypot(own / shown, other / high)
    met = _at_least(times, ratio + expanded)
    missed = ~_at_least(times, ratio - expanded)
    guarded = np.where(met, WITHIN, np.where(missed, OUTSIDE, MARGINAL))
    by_itself = np.isnan(own) | np.isnan(other) | (high == 0)
    found = np.where(by_itself, simply, guarded)
    return np.where(lowest.own, WITHIN, found)


def _open(state: _State, lowest: Lowest, times: float) -> Found:
    """Compare where the reading or the lowest is only a bound.

    Where every reading is over range neither side is certain: unjudged.
    """
    guard = np.hypot(_relative(state, lowest.rows), lowest.relative)
    spread = np.where(np.isnan(guard), 0.0, guard)
    low, high = state.low[lowest.rows], state.high[lowest.rows]
    met = _at_least(times * lowest.low, high * (1 + spread))
    missed = ~_at_least(times * lowest.high, low * (1 - spread))
    return np.where(met, WITHIN, np.where(missed, OUTSIDE, UNJUDGED))
