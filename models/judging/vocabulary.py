"""The closed vocabulary of a rule's parts: each word, and what such a part holds."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from models.judging.moisture import FORMS
from models.judging.near import finite
from models.judging.parts import Part
from models.judging.series import SERIES

Fits = Callable[[Any], bool]


def _word(value: Any) -> bool:
    return isinstance(value, str) and value != ""


def _words(value: Any) -> bool:
    return isinstance(value, Sequence) and not _word(value) and all(map(_word, value))


def _choices(value: Any) -> bool:
    """Return whether *value* is a list of what a condition may be."""
    return _words(value) or (
        isinstance(value, Sequence)
        and not isinstance(value, str)
        and all(map(_plain, value))
    )


def _plain(value: Any) -> bool:
    return isinstance(value, bool) or finite(value)


def _truth(value: Any) -> bool:
    return isinstance(value, bool)


def _positive(value: Any) -> bool:
    return finite(value) and value > 0


def _not_negative(value: Any) -> bool:
    return finite(value) and value >= 0


def _operand(value: Any) -> bool:
    return finite(value) or (isinstance(value, Mapping) and _word(value.get("on")))


def _reasons(value: Any) -> bool:
    return isinstance(value, Mapping) and all(map(_word, value.values()))


def _expectation(value: Any) -> bool:
    if not isinstance(value, Mapping):
        return finite(value)
    numbers = (value.get("times", 1.0), value.get("plus", 0.0))
    known = "points" not in value or _points(value["points"])
    return _word(value.get("on")) and all(map(finite, numbers)) and known


def _points(value: Any) -> bool:
    """Return whether *value* is a table of two columns whose first one rises."""
    return (
        isinstance(value, Sequence)
        and len(value) > 0
        and all(len(point) == 2 and all(map(finite, point)) for point in value)
        and all(before[0] < after[0] for before, after in pairwise(value))
    )


def _anything(_value: Any) -> bool:
    return True  # of what an operating time needs, `find_in_time` says what is wrong


def _share(value: Any) -> bool:
    return finite(value) and 0 < value <= 1


def _bands(value: Any) -> bool:
    """Return whether *value* are bands: verdict, word, and ends that rise."""
    if not isinstance(value, Sequence) or not value:
        return False
    *inner, last = value
    ends = [band.get("to") for band in inner]
    said = all(
        band.get("verdict") in VERDICTS and _word(band.get("word")) for band in value
    )
    risen = all(map(finite, ends)) and all(a < b for a, b in pairwise(ends))
    return said and risen and "to" not in last


def _form(value: Any) -> bool:
    return _word(value) and value in FORMS


def _shares(value: Any) -> bool:
    return isinstance(value, Sequence) and len(value) > 1 and all(map(_share, value))


def _row(value: Any) -> bool:
    return _word(value) and value in SERIES


def _above(value: Any) -> bool:
    """Return whether *value* says above which derived value, and how many points."""
    return (
        isinstance(value, Mapping)
        and _word(value.get("of"))
        and _positive(value.get("least"))
    )


VERDICTS = ("within", "marginal", "outside", "unjudged")
OPERATING_TIME = (
    "curve",
    "time_dial",
    "start_multiple",
    "tolerance_pct",
    "tolerance_s",
    "tolerance_cite",
)
# Kind of bound -> what it needs beside `kind`.
BOUNDS: Mapping[str, Mapping[str, Fits]] = {
    "low": {"value": finite},
    "high": {"value": finite},
    "high_of_lowest": {"times": finite},
    "withstand": {"level_kv": finite, "hold_s": finite, "over_pct": finite},
    "operating_time": dict.fromkeys(OPERATING_TIME, _anything),
    "near": {"expected": _expectation},
    "over_lowest": {"by": _not_negative},
    "near_angle": {"expected": _expectation, "within_deg": _not_negative},
    "bands": {"bands": _bands},
    "of_baseline": {"value": _positive},
    "expected": {"met": _words, "missed": _words},
}
# Words of a bound that came with version 3, and what they must be.
BOUND_OPTIONS: Mapping[str, Mapping[str, Fits]] = {
    "low": {"of": _word, "label": _word, "unit": _word, "resolve": _truth},
    "high": {"of": _word, "label": _word, "unit": _word, "resolve": _truth},
    "high_of_lowest": {"odd_share": _share},
    "withstand": {"rated_kv": _positive},
    "near": {
        "of": _word,
        "label": _word,
        "unit": _word,
        "pct": _not_negative,
        "fixed": _not_negative,
        "below": _truth,
        "above": _truth,
        "tolerance_cite": _not_negative,
    },
    "near_angle": {
        "of": _word,
        "label": _word,
        "unit": _word,
        "tolerance_cite": _not_negative,
    },
    "bands": {"of": _word, "label": _word, "unit": _word},
    "of_baseline": {
        "u": lambda value: value is None or _not_negative(value),
        "low_times": _positive,
        "high_times": _positive,
        "round": _word,
    },
    "expected": {"if_fitted": _truth, "word": _word},
}
# How a correction works -> what it needs beside `by`.
CORRECTIONS: Mapping[str, Mapping[str, Fits]] = {
    "none": {},
    "factor": {"points": _points, "reference_c": finite},
    "metal": {"k": finite, "reference_c": finite},
    "isochor": {
        "r": _positive,
        "a0": finite,
        "a": finite,
        "b0": finite,
        "b": finite,
        "from_c": finite,
        "to_c": finite,
        "densest": _positive,
        "reference_c": finite,
    },
}
CORRECTION_OPTIONS: Mapping[str, Mapping[str, Fits]] = {
    "factor": {"join": lambda value: value == "linear"},
    "isochor": {"of": _word, "saturation": _points, "thermometer": _word},
}
# The unit that a correction works in, where it is not any.
CORRECTED_IN: Mapping[str, str] = {"isochor": "kPa"}
GATES: Mapping[str, Fits] = {
    "known": _truth,
    "at_least": finite,
    "at_most": finite,
    "one_of": _choices,
    "reasons": _reasons,
    "last": _truth,
    "not_zero": _truth,
    "with_reason": _truth,
    # Of a gate on a row of readings.
    "series": _row,
    "least": _positive,
    "rising": _truth,
    "above": _above,
    "gap_pct": _positive,
}
# How a value is derived -> what it needs, and what may be said of it besides.
OPS: Mapping[str, Mapping[str, Fits]] = {
    "over": {"by": _operand},
    "plus": {"by": _operand},
    "minus": {"by": _operand},
    "error_pct": {"expected": _operand},
    "angle": {"by": _operand},
    "magnitude": {"by": _operand},
    "rate": {"first": _word, "first_c": _word, "over_h": _word, "year_h": _positive},
    "vapour": {
        "from": _form,
        "to": _form,
        "a": _positive,
        "b_c": _positive,
        "e0_pa": _positive,
        "from_c": finite,
        "to_c": finite,
    },
    "series_at": {"series": _row},
    "series_where": {"series": _row, "value": _positive},
    "series_between": {
        "series": _row,
        "late": finite,
        "early": finite,
        "as": lambda value: value in ("difference", "ratio"),
    },
    "series_spread": {"series": _row, "shares": _shares, "share_of": _word},
    "knee": {"series": _row, "by": lambda value: value in KNEES},
}
OP_OPTIONS: Mapping[str, Mapping[str, Fits]] = {
    "minus": {"wrap": _positive},
    "rate": {"gauge": _word},
    "vapour": {"at": _word, "to_kpa": _positive},
    "series_at": {"step": finite, "share": _share, "share_of": _word},
}
# What a value needs besides, by one of its words.
KNEES: Mapping[str, Mapping[str, Fits]] = {
    "rise": {"step_pct": _positive, "value_pct": _positive},
    "slope": {"degrees": lambda value: finite(value) and 0 < value < 90},
}
# What may be said of every derived value.
DERIVED: Mapping[str, Fits] = {
    "of": _word,
    "of_unit": _word,
    "unit": _word,
    "label": _word,
    "signed": _truth,
    "after": _truth,
}
# Bounds that compare by a ratio or a difference to the lowest.
NOT_SIGNED = ("high_of_lowest", "over_lowest", "of_baseline")


def gate_faults(gates: Sequence[Part]) -> Iterator[str]:
    """Yield what is wrong with each gate, with its place."""
    for number, gate in enumerate(gates, start=1):
        place = f"gate {number}"
        if "series" not in gate and not _word(gate.get("on")):
            yield f"{place}: 'on' is not what it has to be"
        row = SERIES.get(str(gate.get("series")))
        if "gap_pct" in gate and ("above" not in gate or not row or row.from_zero):
            yield f"{place}: 'gap_pct' goes with 'above', and a row without a step 0"
        yield from _options(place, gate, GATES)


def row_gate_faults(gates: Sequence[Part], derive: Sequence[Part]) -> Iterator[str]:
    """Yield each gate whose points are to lie above what no part derives."""
    names = {part.get("name") for part in derive}
    for number, gate in enumerate(gates, start=1):
        if "above" in gate and gate["above"].get("of") not in names:
            yield f"gate {number}: 'above' is of no derived value"


def correction_faults(correction: Part, unit: str | None) -> Iterator[str]:
    """Yield what is wrong with the correction of a rule in *unit*."""
    by = str(correction.get("by"))
    if by not in CORRECTIONS:
        words = tuple(CORRECTIONS)
        yield f"a rule says '{correction.get('by')}', which is none of {words}"
        return
    for name, fits in CORRECTIONS[by].items():
        if name not in correction or not fits(correction[name]):
            yield f"correction ({by}): '{name}' is not what it has to be"
    yield from _options(
        f"correction ({by})", correction, CORRECTION_OPTIONS.get(by, {})
    )
    if CORRECTED_IN.get(by, unit) != unit:
        yield f"correction ({by}): it works in {CORRECTED_IN[by]}, not in {unit}"


def bound_faults(bounds: Sequence[Part], *, signed: bool) -> Iterator[str]:
    """Yield what is wrong with each bound, with its place."""
    for number, bound in enumerate(bounds, start=1):
        kind = str(bound.get("kind"))
        if kind not in BOUNDS:
            yield f"a rule says '{bound.get('kind')}', which is none of {tuple(BOUNDS)}"
            continue
        place = f"bound {number} ({kind})"
        for name, fits in BOUNDS[kind].items():
            if name not in bound or not fits(bound[name]):
                yield f"{place}: '{name}' is not what it has to be"
        if kind == "operating_time" and len({"pickup_a", "pickup_v"} & set(bound)) != 1:
            yield f"{place}: it needs one of 'pickup_a' and 'pickup_v'"
        yield from _options(place, bound, BOUND_OPTIONS.get(kind, {}))
        if signed and kind in NOT_SIGNED:
            yield f"{place}: what may be negative has no such comparison"


def derived_faults(derive: Sequence[Part]) -> Iterator[str]:
    """Yield what is wrong with each derived word, with its place."""
    names: set[str] = {"reading"}
    for number, part in enumerate(derive, start=1):
        name = part.get("name")
        place = f"derived value {number} ({name})"
        op = str(part.get("op"))
        if op not in OPS:
            yield f"{place}: a rule says '{op}', which is none of {tuple(OPS)}"
        if not _word(name) or name in names:
            yield f"{place}: 'name' is not what it has to be"
        for wanted, fits in _needs(op, part).items():
            if wanted not in part or not fits(part[wanted]):
                yield f"{place}: '{wanted}' is not what it has to be"
        yield from _options(place, part, {**DERIVED, **OP_OPTIONS.get(op, {})})
        names.add(str(name))


def _needs(op: str, part: Part) -> Mapping[str, Fits]:
    """Return what a derived value has to say: by what a knee is, where a value is."""
    needs = OPS.get(op, {})
    if op == "knee":
        return {**needs, **KNEES.get(str(part.get("by")), {})}
    if op == "series_at" and "step" not in part:
        return {**needs, "share": _share, "share_of": _word}
    return needs


def _options(place: str, part: Part, options: Mapping[str, Fits]) -> Iterator[str]:
    for name, fits in options.items():
        if name in part and not fits(part[name]):
            yield f"{place}: '{name}' is not what it has to be"
