"""Whether a clearance, or a part of it, may be handed back."""

from collections.abc import Mapping
from typing import Any

from models.record.safety.after_lines import after_open
from models.record.safety.asked import cells_to_return
from models.record.safety.fault import FaultJson, fault, isolation_faults
from models.record.safety.people import speaker_key
from models.record.safety.return_standing import return_lines
from models.record.safety.state import Isolation, State

Json = Mapping[str, Any]


def check_hand_back(state: State, act: Json, _at: int) -> list[FaultJson]:
    """Return the open lines of the return, and the cards that are not made safe."""
    isolation = state.isolations.get(act["isolation"])
    wrong = isolation_faults(isolation)
    if isolation is None or wrong:
        return wrong
    same = isolation.returning_cells == act["cells"]
    if isolation.returning_since is None or not same:
        return [fault("scope", "return_none")]
    return [*_to(act), *_holder(state, isolation, act), *_open(state, isolation)]


def _to(act: Json) -> list[FaultJson]:
    named = str(act.get("to") or "").strip()
    return [] if named else [fault("to", "returned_to_missing")]


def _holder(state: State, isolation: Isolation, act: Json) -> list[FaultJson]:
    held = state.lines.find("isolation", isolation.id, "G04a")
    if held is None or held.by_key == speaker_key(act):
        return []
    return [fault("scope", "not_holder", by=held.by)]


def _open(state: State, isolation: Isolation) -> list[FaultJson]:
    found = []
    cards = open_cards(state, isolation)
    if cards:
        found.append(fault("scope", "cards_open", cards=cards))
    lines = return_lines(state, isolation)
    codes = [one["code"] for one in lines if one["state"] in ("open", "lapsed")]
    if codes:
        found.append(fault("scope", "return_open", open=len(codes), codes=codes))
    return found


def open_cards(state: State, isolation: Isolation) -> list[str]:
    """Return the cards of the part whose lines of *after* are not complete."""
    cells = cells_to_return(state, isolation)
    cards = [card for cell in cells for card in state.places.cards(cell)]
    return [card for card in cards if after_open(state, card)]
