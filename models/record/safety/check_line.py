"""Whether a line may be given: it is asked here, it is so now, its notes are there."""

from collections.abc import Callable, Mapping
from typing import Any

from models.record.safety.after_lines import discharge, may_be_given
from models.record.safety.asked import (
    Asked,
    cells_to_return,
    in_charge,
    of_point,
    shared_of_crew,
    shared_of_isolation,
)
from models.record.safety.check_notes import check_notes
from models.record.safety.fault import (
    FaultJson,
    crew_faults,
    fault,
    isolation_faults,
    scope_faults,
)
from models.record.safety.people import person_key, speaker_key
from models.record.safety.point_acts import grounds_of
from models.record.safety.reasons import (
    Ask,
    cell_reasons,
    crew_of,
    crew_reasons,
    isolation_of,
    scope_reasons,
)
from models.record.safety.state import State
from models.record.safety.times import moment_text

Json = Mapping[str, Any]
NEEDS_TWO_NAMES = ("G13e",)  # waived by an override only


def check_line(state: State, act: Json, at: int) -> list[FaultJson]:
    """Return what is wrong with a line; its place first, then what it says."""
    line = state.book["lines"].get(act["code"])
    if line is None or line["scope"] != act["scope"]:
        return [fault("code", "line_unknown", line=act["code"])]
    return PLACES[act["scope"]](state, act, at) or _statement(state, act, line, at)


def _statement(state: State, act: Json, line: Json, at: int) -> list[FaultJson]:
    if act["state"] == "confirmed":
        return check_notes(state, act, line, at)
    if line["never_waived"]:
        return [fault("state", "never_waived")]
    if act["code"] in NEEDS_TWO_NAMES:
        return [fault("state", "two_names")]
    if not (act.get("reason") or "").strip():
        return [fault("reason", "reason_missing")]
    return []


def _crew(state: State, act: Json, _at: int) -> list[FaultJson]:
    crew = state.crews.get(act["of"])
    wrong = crew_faults(crew)
    if crew is None or wrong:
        return wrong
    if act["code"] == "G02a":
        second = person_key((act.get("noted") or {}).get("person"))
        if second is not None and second == in_charge(state, crew):
            return [fault("noted.person", "second_is_first")]
    return _item(state, act, list(shared_of_crew(state, crew)), state.own_of_crew)


def _isolation(state: State, act: Json, _at: int) -> list[FaultJson]:
    isolation = state.isolations.get(act["of"])
    wrong = isolation_faults(isolation)
    if isolation is None or wrong:
        return wrong
    asked = list(shared_of_isolation(state, isolation))
    who = speaker_key(act)
    return scope_faults(crew_reasons(state, isolation.lineup, who)) or _item(
        state, act, asked, [*state.own_of_isolation, "G07b"]
    )


def _item(
    state: State, act: Json, asked: list[Asked], once: list[str]
) -> list[FaultJson]:
    """Return that a line is not asked, or not of this item."""
    code, item = act["code"], act.get("item")
    if code in once or any(one.code == code and one.item == item for one in asked):
        return []
    if state.book["lines"][code]["each"] or item is not None:
        return [fault("item", "item_unknown")]
    return [fault("code", "line_not_asked")]


def _point(state: State, act: Json, _at: int) -> list[FaultJson]:
    if act["code"] not in of_point(state, act["of"]):
        return [fault("code", "line_not_asked")]
    return scope_faults(cell_reasons(state, act["of"], speaker_key(act)))


def _test(state: State, act: Json, at: int) -> list[FaultJson]:
    if act["code"] not in _codes(state, act, "before"):
        return [fault("code", "line_not_asked")]
    who = speaker_key(act)
    found = scope_faults(scope_reasons(state, Ask(act["of"], who, at)))
    return found or _last_ground(state, act, who)


def _last_ground(state: State, act: Json, who: str) -> list[FaultJson]:
    """Return that primary injection takes off the last ground: its leader says so."""
    injection = "PI2" in _codes(state, act, "before")
    if act["code"] != "T3" or act["state"] != "confirmed" or not injection:
        return []
    cell = state.places.cell(act["of"])
    isolation = isolation_of(state, cell, who)
    crew = crew_of(state, state.places.lineup(cell), who)
    if isolation is None or crew is None or in_charge(state, crew) == who:
        return []
    off = (act.get("noted") or {}).get("grounds") or grounds_of(state, cell or "")
    on = [item.item for item in state.register("ground", isolation.id)]
    return [] if set(on) - set(off) else [fault("scope", "last_ground")]


def _after(state: State, act: Json, at: int) -> list[FaultJson]:
    card, code = act["of"], act["code"]
    if code not in _codes(state, act, "after"):
        return [fault("code", "line_not_asked")]
    if not may_be_given(state, card, code):
        return [fault("code", "no_reading")]
    return _discharged(state, card, at) if code == "P03a" else []


def _codes(state: State, act: Json, part: str) -> set[str]:
    lists = state.lists(act["of"])["lists"]
    return {code for one in lists.values() for code in one[part]}


def _discharged(state: State, card: str, at: int) -> list[FaultJson]:
    timer = discharge(state, card)
    if timer is None:
        return [fault("code", "dc_not_off")]
    off, over = timer
    aside = state.lines.aside("after", card, "P03a")
    if at >= over or (aside is not None and aside.at >= off):
        return []
    return [fault("code", "discharging", at=moment_text(over))]


def _return(state: State, act: Json, _at: int) -> list[FaultJson]:
    isolation = state.isolations.get(act["of"])
    wrong = isolation_faults(isolation)
    if isolation is None or wrong:
        return wrong
    if isolation.returning_since is None:
        return [fault("scope", "return_none")]
    of_cell = "cell" in state.book["lines"][act["code"]]["each"]
    if of_cell and act.get("item") not in cells_to_return(state, isolation):
        return [fault("item", "item_unknown")]
    return []


PLACES: Mapping[str, Callable[[State, Json, int], list[FaultJson]]] = {
    "crew": _crew,
    "isolation": _isolation,
    "point": _point,
    "test": _test,
    "after": _after,
    "return": _return,
}
