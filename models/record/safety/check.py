"""Whether an act may be taken as things stand: what is wrong with it, if anything.

Making safe is always taken: lines of *after* and of a return, leaving, ending, put-back
entries, stops. What names a thing that is not there is refused all the same.
"""

from collections.abc import Callable, Mapping
from typing import Any

from models.record.safety.check_cell import check_enter
from models.record.safety.check_line import check_line
from models.record.safety.check_override import check_override
from models.record.safety.check_release import check_release
from models.record.safety.check_return import check_hand_back
from models.record.safety.fault import (
    FaultJson,
    crew_faults,
    fault,
    isolation_faults,
    scope_faults,
)
from models.record.safety.people import speaker_key
from models.record.safety.reasons import crew_reasons
from models.record.safety.state import State

Json = Mapping[str, Any]
Check = Callable[[State, Json, int], list[FaultJson]]


def check(state: State, act: Json, at: int, *, lead: bool = False) -> list[FaultJson]:
    """Return what is wrong with an act; *lead*: who says it has the role lead."""
    if act["act"] == "release":
        return check_release(state, act, lead=lead)
    return CHECKS[act["act"]](state, act, at)


def _open_crew(state: State, act: Json, _at: int) -> list[FaultJson]:
    if not act["lineups"]:
        return [fault("lineups", "lineup_missing")]
    return _lineups(state, act)


def _lineups(state: State, act: Json) -> list[FaultJson]:
    unknown = [one for one in act["lineups"] if one not in state.book["lineups"]]
    return [fault("lineups", "lineup_unknown") for _ in unknown[:1]]


def _extend_crew(state: State, act: Json, at: int) -> list[FaultJson]:
    return crew_faults(state.crews.get(act["crew"])) or _open_crew(state, act, at)


def _crew_known(state: State, act: Json, _at: int) -> list[FaultJson]:
    return [] if act["crew"] in state.crews else [fault("crew", "crew_unknown")]


def _open_isolation(state: State, act: Json, _at: int) -> list[FaultJson]:
    if not str(act["clearance"] or "").strip():
        return [fault("clearance", "clearance_missing")]
    if act["lineup"] not in state.book["lineups"]:
        return [fault("lineup", "lineup_unknown")]
    return scope_faults(crew_reasons(state, act["lineup"], speaker_key(act)))


def _isolation_known(state: State, act: Json, _at: int) -> list[FaultJson]:
    known = act["isolation"] in state.isolations
    return [] if known else [fault("isolation", "isolation_unknown")]


def _list_item(state: State, act: Json, _at: int) -> list[FaultJson]:
    if act["register"] in ("set", "place"):
        return crew_faults(state.crews.get(act["of"]))
    return isolation_faults(state.isolations.get(act["of"]))


def _put_back(state: State, act: Json, at: int) -> list[FaultJson]:
    items = state.registers.get(("put_back", act["isolation"]), {})
    wrong = _isolation_known(state, act, at)
    if wrong or act["item"] in items:
        return wrong
    return [fault("item", "item_unknown")]


def _dc_off(state: State, act: Json, _at: int) -> list[FaultJson]:
    if act["card"] not in state.book["cards"]:
        return [fault("card", "card_unknown")]
    return [] if act["dc_s"] >= 0 else [fault("dc_s", "dc_time")]


def _leave(state: State, act: Json, _at: int) -> list[FaultJson]:
    known = act["cell"] in state.points
    return [] if known else [fault("cell", "point_not_entered")]


def _change(state: State, act: Json, _at: int) -> list[FaultJson]:
    places = (state.crews, state.isolations, state.book["point"], state.book["cards"])
    known = any(act["of"] in place for place in places) or act["of"] in state.points
    return [] if known else [fault("of", "place_unknown")]


def _nothing(_state: State, _act: Json, _at: int) -> list[FaultJson]:
    return []


CHECKS: Mapping[str, Check] = {
    "open_crew": _open_crew,
    "extend_crew": _extend_crew,
    "end_crew": _crew_known,
    "sign_off": _crew_known,
    "open_isolation": _open_isolation,
    "list": _list_item,
    "put_back": _put_back,
    "open_return": _isolation_known,
    "hand_back": check_hand_back,
    "line": check_line,
    "override": check_override,
    "enter": check_enter,
    "leave": _leave,
    "change": _change,
    "stop": _nothing,
    "dc_off": _dc_off,
}
