"""Which of a round's limits come from a maintenance edition."""

from collections.abc import Iterable, Mapping
from typing import Any

# Documents printed in two editions, for acceptance and for maintenance: the latter.
MAINTENANCE = ("ANSI/NETA MTS",)


def maintenance_editions(kind: str, rules: Iterable[Mapping[str, Any]]) -> list[str]:
    """Return the maintenance editions that an acceptance round's rules rest on.

    Each as document, edition and table; none for a maintenance round, whose limits
    they are.
    """
    if kind != "acceptance":
        return []
    found = {
        f"{cite['document']}-{cite['edition']} {cite['table']}"
        for rule in rules
        for cite in rule["cite"]
        if str(cite.get("document", "")).startswith(MAINTENANCE)
    }
    return sorted(found)


def editions_sentence(editions: Iterable[str]) -> str:
    """Return what is said beside an acceptance round's limits; empty for none."""
    named = list(editions)
    if not named:
        return ""
    return (
        f"Limits of this acceptance round come from the maintenance edition: "
        f"{', '.join(named)}. The acceptance edition was not compared with it."
    )
