"""The order of the programme: what has to be found good before a card opens."""

from collections.abc import Iterator, Mapping
from typing import Any

from models.record.safety.asked import of_point
from models.record.safety.state import State

Json = Mapping[str, Any]


def waiting(
    state: State, card: str, person: str, cell: str | None
) -> Iterator[dict[str, Any]]:
    """Yield what a card waits for and nobody set aside."""
    for wait in state.lists(card)["waits"]:
        aside = state.lines.aside("test", card, wait["code"])
        if aside is not None:
            continue
        if "cards" in wait:
            left = [one for one in wait["cards"] if not state.found_good.get(one)]
            if left:
                yield {"code": "insulation_first", "facts": {"cards": left}}
        else:
            cells = [c for c in wait["cells"] if not _dense(state, c, person, cell)]
            if cells:
                yield {"code": "density_first", "facts": {"cells": cells}}


def _dense(state: State, cell: str, person: str, own: str | None) -> bool:
    """Return whether gas density was read in the present shift of this person."""
    if "HV6a" not in of_point(state, cell):
        return True
    given = state.lines.find("point", cell, "HV6a")
    lineup = state.places.lineup(own)
    shifts = [
        crew.opened
        for crew in state.crews.values()
        if crew.ended is None and lineup in crew.lineups and person in crew.people
    ]
    begun = max(shifts, default=0)
    return given is not None and given.counts and given.at >= begun
