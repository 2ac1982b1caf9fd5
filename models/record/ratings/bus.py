"""Breakers and switches beside the bus section that they stand on."""

import re
from collections.abc import Iterator

from models.record.ratings.compared import SWITCHING, Compared, Held
from models.record.ratings.remark import Finding, amperes, practice

# How the trade names the cell that feeds a section.
INCOMER = re.compile(r"\b(incom|infeed|main\b|supply\b|source\b)", re.IGNORECASE)


def bus_findings(about: Compared) -> Iterator[Finding]:
    """Yield what does not go with the rated current of its bus section, in A."""
    yield from _sections(about)
    for held in about.of_kind(*SWITCHING):
        rated_a = held.value("rated_a")
        if rated_a is not None:
            yield from _beside_bus(about, held, rated_a)


def _sections(about: Compared) -> Iterator[Finding]:
    lineup_a = about.rating("rated_a")
    for at, one in enumerate(about.draft.sections):
        if one.rated_a and lineup_a and one.rated_a > lineup_a:
            parts = {"value": amperes(one.rated_a), "lineup": amperes(lineup_a)}
            place = f"sections.{at}.rated_a"
            yield Finding(place, one.name, "rating.section", parts, practice())


def _beside_bus(about: Compared, held: Held, rated_a: float) -> Iterator[Finding]:
    own = about.bus_a(held.cell.bus)
    if own is None:
        return
    parts = {"value": amperes(rated_a), "bus": held.cell.bus, "bus_a": amperes(own)}
    if held.cell.tie_to:
        other = about.bus_a(held.cell.tie_to)
        least = own if other is None else min(own, other)
        if rated_a < least:
            parts = {"value": amperes(rated_a), "bus_a": amperes(least)}
            yield held.found("rated_a", "rating.tie", **parts)
    elif rated_a > own:
        yield held.found("rated_a", "rating.above_bus", **parts)
    elif rated_a < own and INCOMER.search(held.cell.name):
        yield held.found("rated_a", "rating.incomer", **parts)
