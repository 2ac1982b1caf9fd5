"""Versions of the rule's vocabulary: which a reader knows, which a rule needs."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from models.judging.quantities import SINCE_3 as UNITS_SINCE_3
from models.judging.timing_options import OPTIONS

READ = (1, 2, 3)
NEWEST = READ[-1]

Part = Mapping[str, Any]

# Kind of bound -> the words that came with a version.
SINCE_2: Mapping[str, frozenset[str]] = {"operating_time": OPTIONS}
SINCE_3: Mapping[str, frozenset[str]] = {
    "low": frozenset({"of", "resolve"}),
    "high": frozenset({"of", "resolve"}),
    "high_of_lowest": frozenset({"odd_share"}),
    "operating_time": frozenset({"pickup_v"}),
    "withstand": frozenset({"rated_kv"}),
}
KINDS_SINCE_3 = frozenset(
    {"near", "near_angle", "bands", "over_lowest", "of_baseline", "expected"}
)
NOTES_SINCE_3 = frozenset(
    {
        "beside",
        "coil_marks",
        "counter",
        "full_load",
        "held_leakage",
        "limit_factor",
        "other_base",
        "other_knee",
        "same_file",
        "travel",
        "wait_time",
        "wiring_guess",
    }
)
CORRECTIONS_SINCE_3 = frozenset({"isochor"})
GATES_SINCE_3 = frozenset(
    {"at_most", "one_of", "last", "not_zero", "series", "with_reason"}
)


def lowest_version(
    *,
    unit: str | None,
    signed: bool,
    said: Any,
    gates: Sequence[Part],
    derive: Sequence[Part],
    notes: Sequence[Part],
    bounds: Sequence[Part],
    correction: Part,
) -> int:
    """Return the lowest version that can carry these parts of a rule."""
    kinds = {bound.get("kind") for bound in bounds}
    if (
        signed
        or said is not None
        or derive
        or unit in UNITS_SINCE_3
        or correction.get("by") in CORRECTIONS_SINCE_3
        or "join" in correction
        or not KINDS_SINCE_3.isdisjoint(kinds)
        or not GATES_SINCE_3.isdisjoint(word for gate in gates for word in gate)
        or not NOTES_SINCE_3.isdisjoint(note.get("say") for note in notes)
        or _has(bounds, SINCE_3)
    ):
        return 3
    return 2 if notes or _has(bounds, SINCE_2) else 1


def _has(bounds: Iterable[Part], since: Mapping[str, frozenset[str]]) -> bool:
    return any(
        word in since.get(bound.get("kind", ""), ())
        for bound in bounds
        for word in bound
    )
