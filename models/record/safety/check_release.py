"""Whether a stop may be released: by whom, with which words."""

from collections.abc import Mapping
from typing import Any

from models.record.safety.fault import FaultJson, fault
from models.record.safety.people import person_key, speaker_key
from models.record.safety.scope_standing import releasers
from models.record.safety.state import State

Json = Mapping[str, Any]


def check_release(state: State, act: Json, *, lead: bool) -> list[FaultJson]:
    """Return what is missing; *lead*: the one who releases has the role lead."""
    if act["stop"] not in state.stops:
        return [fault("stop", "stop_unknown")]
    found = [
        fault(name, code)
        for name, code in (
            ("reason", "reason_missing"),
            ("put_right", "put_right_missing"),
        )
        if not (act.get(name) or "").strip()
    ]
    return found + _by_whom(state, act, lead=lead)


def _by_whom(state: State, act: Json, *, lead: bool) -> list[FaultJson]:
    if not act["agrees"]:
        return [] if lead else [fault("scope", "lead_wanted")]
    named = [
        one
        for crew in state.crews.values()
        if crew.ended is None
        for one in releasers(state, crew)
    ]
    if speaker_key(act) in {person_key(one) for one in named}:
        return []
    if not named:
        return [] if lead else [fault("scope", "lead_wanted")]
    names = [one["name"] for one in named]
    return [fault("scope", "not_releaser", names=names)]
