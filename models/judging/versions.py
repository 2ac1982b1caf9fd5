"""Versions of the rule's vocabulary: which a reader knows, which a rule needs."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.judging.timing_options import OPTIONS

READ = (1, 2)
NEWEST = READ[-1]

# Kind of bound -> the words that came with version 2.
SINCE_2: Mapping[str, frozenset[str]] = {"operating_time": OPTIONS}


def lowest_version(
    notes: Sequence[Mapping[str, Any]], bounds: Sequence[Mapping[str, Any]]
) -> int:
    """Return the lowest version that can carry these parts of a rule."""
    newer = any(
        word in SINCE_2.get(bound.get("kind", ""), ())
        for bound in bounds
        for word in bound
    )
    return 2 if notes or newer else 1
