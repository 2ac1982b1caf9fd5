"""Whether a line, or a condition of the program, may be set aside."""

from collections.abc import Mapping
from typing import Any

from models.record.safety.fault import FaultJson, fault
from models.record.safety.people import speaker
from models.record.safety.state import State

Json = Mapping[str, Any]
NAMES_WANTED = 2
CONDITIONS = ("HV4", "HV6")  # of the program: what a card waits for
REASON_ALONE = ("HV4",)  # the order of the programme: no second and third name


def check_override(state: State, act: Json, _at: int) -> list[FaultJson]:
    """Return what is wrong with an override: its line, its reason, its names."""
    found = _what(state, act)
    if not (act.get("reason") or "").strip():
        found.append(fault("reason", "reason_missing"))
    if act["code"] not in REASON_ALONE and len(_others(act)) < NAMES_WANTED:
        found.append(fault("names", "two_names"))
    return found


def _what(state: State, act: Json) -> list[FaultJson]:
    if act["scope"] == "test" and act["code"] in CONDITIONS:
        return []
    line = state.book["lines"].get(act["code"])
    if line is None or line["scope"] != act["scope"]:
        return [fault("code", "line_unknown", line=act["code"])]
    return [fault("code", "never_waived")] if line["never_waived"] else []


def _others(act: Json) -> set[str]:
    """Return the names that stand under it besides who tests."""
    names = {" ".join(str(name).split()).lower() for name in act["names"]}
    own = " ".join(speaker(act)["name"].split()).lower()
    return names - {own, ""}
