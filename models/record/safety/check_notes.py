"""Whether what has to be noted with a line is there and is of its kind."""

from collections.abc import Mapping
from typing import Any

from models.record.safety.fault import FaultJson, fault
from models.record.safety.people import keys_named
from models.record.safety.state import Item, State
from models.record.safety.times import milliseconds_or_none

Json = Mapping[str, Any]


def check_notes(state: State, act: Json, line: Json, at: int) -> list[FaultJson]:
    """Return the fields of a line that are empty or not what they should be."""
    noted = act.get("noted") or {}
    found = []
    for name in line["fields"]:
        field = state.book["fields"][name]
        code = _wrong(state, field, noted.get(name))
        if code is not None:
            found.append(fault(f"noted.{name}", code, label=field["label"]))
    return found or _permit(noted, at) or _detector(state, noted)


def _permit(noted: Json, at: int) -> list[FaultJson]:
    """Return that a permit has ended already."""
    end = milliseconds_or_none(noted.get("permit_end"))
    over = end is not None and end <= at
    return [fault("noted.permit_end", "permit_over")] if over else []


def _wrong(state: State, field: Json, value: Any) -> str | None:
    if _is_empty(value):
        return "note_missing" if field["required"] else None
    kind = field["kind"]
    if kind == "grounds" and not _on_a_register(state, value):
        return "note_ground"
    if kind == "cell" and state.places.lineup(str(value)) is None:
        return "note_cell"
    if kind == "number" and (
        isinstance(value, bool) or not isinstance(value, int | float)
    ):
        return "note_number"
    if kind == "choice" and value not in field["choices"]:
        return "note_choice"
    if kind in ("person", "people") and not keys_named({"value": value}):
        return "note_person"
    return None


def _is_empty(value: Any) -> bool:
    blank = isinstance(value, str) and not value.strip()
    return value is None or value == [] or blank


def _on_a_register(state: State, grounds: Any) -> bool:
    """Return whether each ground stands on the register of a clearance."""
    known = {
        item.item
        for isolation in state.isolations
        for item in state.register("ground", isolation)
    }
    return isinstance(grounds, list) and known.issuperset(map(str, grounds))


def _detector(state: State, noted: Json) -> list[FaultJson]:
    """Return that a detector is none of those on the crews' registers, if any are."""
    known = [item for crew in state.crews for item in _detectors(state, crew)]
    named = str(noted.get("detector") or "").strip().lower()
    if not named or not known or any(named in _names(item) for item in known):
        return []
    shown = [str(item.fields.get("name") or item.item) for item in known]
    return [fault("noted.detector", "detector_unknown", known=shown)]


def _detectors(state: State, crew: str) -> list[Item]:
    if state.crews[crew].ended is not None:
        return []
    sets = state.register("set", crew)
    return [item for item in sets if item.fields.get("set_kind") == "detector"]


def _names(item: Item) -> set[str]:
    words = (item.item, item.fields.get("name"), item.fields.get("serial"))
    return {str(word).strip().lower() for word in words if word}
