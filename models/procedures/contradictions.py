"""Limits that no reading can meet: the least that is allowed above the greatest."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from models.judging.wording import amount

Part = Mapping[str, Any]


def contradictions(bounds: Sequence[Part], unit: str) -> Iterator[dict[str, Any]]:
    """Yield why nothing is judged where two bounds shut out each other.

    Nobody can tell which of the two is the wrong one, so that no verdict is given.
    """
    for low in _of_kind(bounds, "low"):
        for high in _of_kind(bounds, "high"):
            when = _both(low.get("when", {}), high.get("when", {}))
            apart = low.get("of") != high.get("of") or low["value"] <= high["value"]
            if when is None or apart:
                continue
            least, most = (
                amount(one["value"], one.get("unit", unit)) for one in (low, high)
            )
            reason = (
                f"The least that is allowed, {least}, lies above the greatest, {most}: "
                "look at the nameplate and at what is given, one of them is wrong."
            )
            yield {"when": when, "reason": reason} if when else {"reason": reason}


def _of_kind(bounds: Sequence[Part], kind: str) -> list[Part]:
    return [bound for bound in bounds if bound["kind"] == kind]


def _both(one: Part, other: Part) -> dict[str, Any] | None:
    """Return when both hold; None: never at once."""
    if any(one[name] != other[name] for name in one.keys() & other.keys()):
        return None
    return {**one, **other}
