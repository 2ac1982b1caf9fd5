"""What acts about a clearance change."""

from collections.abc import Mapping
from typing import Any

from models.record.safety.given import Given
from models.record.safety.lapses import (
    cell_falls,
    isolation_changes,
    settle_crew,
    settle_isolation,
)
from models.record.safety.people import speaker, speaker_key
from models.record.safety.point_acts import ground_moves
from models.record.safety.state import Isolation, Item, State
from models.record.safety.times import milliseconds

Json = Mapping[str, Any]


def open_isolation(state: State, act: Json) -> None:
    """Take a clearance."""
    isolation = Isolation(
        id=act["isolation"],
        lineup=act["lineup"],
        section=act["section"],
        clearance=act["clearance"],
        opened=milliseconds(act["at"]),
    )
    state.isolations[isolation.id] = isolation


def line_of_isolation(state: State, act: Json, before: Given | None) -> None:
    """Take a line of a clearance; another holder is a change of it."""
    isolation = state.isolations.get(act["of"])
    if isolation is None:
        return
    at, by = milliseconds(act["at"]), speaker(act)["name"]
    other = before is not None and before.by_key != speaker_key(act)
    if act["code"] == "G04a" and other:
        isolation_changes(state, isolation, "holder", at, by)
    else:
        settle_isolation(state, isolation, at, by, "wider")


def list_item(state: State, act: Json) -> None:
    """Write an item onto a register; a new source or ground changes the clearance."""
    register, of, at = act["register"], act["of"], milliseconds(act["at"])
    items = state.registers.setdefault((register, of), {})
    before = items.get(act["item"])
    item = Item(act["item"], act["fields"], speaker(act)["name"], at)
    if before is not None:
        item.back = before.back
    items[item.item] = item
    moved = before is None or before.gone != item.gone
    isolation = state.isolations.get(of)
    if isolation is not None and register in ("source", "ground") and moved:
        if isolation.stood:
            isolation_changes(state, isolation, register, at, item.by, item.item)
            ground_moves(state, item.item, at)
    elif of in state.crews:
        settle_crew(state, state.crews[of], at, item.by, register, quiet=True)


def put_back(state: State, act: Json) -> None:
    """Write that an entry of the put-back list is back in its place."""
    item = state.registers.get(("put_back", act["isolation"]), {}).get(act["item"])
    if item is not None:
        item.back = {
            "by": speaker(act)["name"],
            "at": milliseconds(act["at"]),
            "torque": act.get("torque"),
        }


def open_return(state: State, act: Json) -> None:
    """Begin to return a clearance or a part of it."""
    isolation = state.isolations.get(act["isolation"])
    if isolation is not None:
        isolation.returning_since = milliseconds(act["at"])
        isolation.returning_cells = act["cells"]


def hand_back(state: State, act: Json) -> None:
    """Give a clearance back; after a part the rest has another boundary."""
    isolation = state.isolations.get(act["isolation"])
    if isolation is None or isolation.ended is not None:
        return
    at = milliseconds(act["at"])
    cells = state.covered(isolation) if act["cells"] is None else act["cells"]
    for cell in cells:
        cell_falls(state, cell, at, "handed_back")
    isolation.returning_since, isolation.returning_cells = None, None
    if act["cells"] is None:
        isolation.fall("handed_back", at)
        isolation.ended = at
    else:
        isolation.returned += [c for c in cells if c not in isolation.returned]
        by = speaker(act)["name"]
        isolation_changes(state, isolation, "boundary", at, by)
