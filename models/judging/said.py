"""The unit in which a rule's values are said, where it is not the rule's own."""

from collections.abc import Mapping
from typing import Any

from models.judging.quantities import UNITS
from models.judging.wording import said_as

Said = str | Mapping[str, Any] | None


def said_unit_of(said: Said, conditions: Mapping[str, Any]) -> str | None:
    """Return the unit that a rule declares, or that a condition of the reading names.

    None: neither; values are said in the unit of the rule.
    """
    if not isinstance(said, Mapping):
        return said
    named = conditions.get(said["on"])
    return (named.strip() or None) if isinstance(named, str) else None


def base_of(unit: str | None, said: Said, conditions: Mapping[str, Any]) -> str:
    """Return the unit of a rule's values, with the one that they are said in."""
    return said_as(unit or "", said_unit_of(said, conditions))


def is_said(said: Any, unit: str | None) -> bool:
    """Return whether *said* is none, a unit like *unit*, or names a condition."""
    if said is None:
        return True
    if isinstance(said, Mapping):
        return isinstance(said.get("on"), str) and said["on"] != ""
    if not isinstance(said, str) or not {said, unit} <= set(UNITS):
        return False
    one, other = UNITS[said], UNITS[unit or ""]
    return (one.quantity, one.zero) == (other.quantity, other.zero)
