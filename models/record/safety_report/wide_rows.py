"""Rows of the wider scopes: shifts, clearances, and the cells that were entered."""

from collections.abc import Iterable, Iterator

from models.record.safety_report.noted import (
    fields_words,
    ground_name,
    number_words,
    value_words,
    values,
)
from models.record.safety_report.told import Json, Told, noted_of, said_by, who
from models.record.shapes.safety_report import (
    CellRow,
    ClearanceRow,
    CrewRow,
    PartReturned,
)

WEATHER = ("G23a",)
COUNTED = "P07b"
AIR = ("G24b", "IR5a")


def crew_rows(told: Told, site: Json) -> list[CrewRow]:
    """Return a row a shift; *site* is what stands by all acts."""
    standing = {one["of"]: one for one in site["crews"]}
    return [_crew(told, crew, standing[crew]) for crew in told.crews]


def _crew(told: Told, crew: str, standing: Json) -> CrewRow:
    opened = next(a for a in told.of_kind("open_crew") if a["crew"] == crew)
    ended = standing["state"] == "ended"
    return {
        "shift": told.crews[crew],
        "opened_at": opened["at"],
        "closed_at": standing["at"] if ended else None,
        "end": _end(told, standing["cause"]) if ended else "",
        "in_charge": standing["in_charge"] or "",
        "people": [p["name"] for p in standing["people"] if p["since"] or p["left"]],
        "releasers": list(standing["releasers"]),
        "weather": _noted(told, WEATHER, crew),
        "air": _noted(told, AIR, crew),
    }


def _end(told: Told, cause: str | None) -> str:
    """Return how a shift ended where nobody pressed its end."""
    hours = told.book["settings"]["shift_hours"]
    ends = {"hours": f"its {hours:g} h were over", "person": "the one in charge left"}
    return ends.get(cause or "", "")


def _noted(told: Told, codes: Iterable[str], of: str) -> list[str]:
    """Return what was noted with these lines, each time that they were given."""
    said = (values(told, act) for code in codes for act in told.lines(code, of))
    return list(dict.fromkeys(filter(None, said)))


def clearance_rows(told: Told, site: Json) -> list[ClearanceRow]:
    """Return a row a clearance."""
    standing = {one["of"]: one for one in site["isolations"]}
    return [_clearance(told, one, standing[one]) for one in told.isolations]


def _clearance(told: Told, isolation: str, standing: Json) -> ClearanceRow:
    opened = told.isolations[isolation]
    handed_back = [_part(told, act) for act in _hand_backs(told, isolation)]
    off = [one for one in standing["grounds"] if one["fields"].get("gone")]
    return {
        "number": opened["clearance"],
        "section": opened.get("section") or "whole lineup",
        "holder": standing["holder"] or "",
        "opened_at": opened["at"],
        "closed_at": standing["at"] if standing["state"] == "ended" else None,
        "points": [_point(told, isolation, one) for one in standing["sources"]],
        "grounds_on": len(standing["grounds"]),
        "grounds_off": len(off),
        "counted": _counted(told, isolation),
        "grounds": [
            fields_words(told, "ground", one["fields"]) for one in standing["grounds"]
        ],
        "parts": [one for one in handed_back if one["cells"]],
        "returned": next((one for one in handed_back if not one["cells"]), None),
    }


def _counted(told: Told, isolation: str) -> list[str]:
    """Return how many grounds were counted on and off at the return; empty: not yet."""
    noted = [noted_of(act) for act in told.lines(COUNTED, isolation)]
    names = ("grounds_on", "grounds_off")
    if not noted or any(noted[-1].get(name) is None for name in names):
        return []
    return [number_words(noted[-1][name]) for name in names]


def _hand_backs(told: Told, isolation: str) -> Iterator[Json]:
    return (a for a in told.of_kind("hand_back") if a["isolation"] == isolation)


def _point(told: Told, isolation: str, source: Json) -> str:
    """Return an isolating point with the lock that was last put on it."""
    words = _place(told, source) or source["item"]
    locks = [
        noted_of(act)["lock"]
        for act in told.lines("G07a", isolation)
        if act.get("item") == source["item"] and noted_of(act).get("lock")
    ]
    gone = ", taken off the list" if source["fields"].get("gone") else ""
    return f"{words}, lock {locks[-1]}{gone}" if locks else f"{words}{gone}"


def _place(told: Told, source: Json) -> str:
    """Return the isolating point, and of which source it is."""
    fields = source["fields"]
    kept = {k: v for k, v in fields.items() if k not in ("isolating_point", "beyond")}
    of, point = fields_words(told, "source", kept), fields.get("isolating_point")
    return f"{point} ({of})" if point and of else str(point or of)


def _part(told: Told, act: Json) -> PartReturned:
    return {
        "cells": [told.cells[cell]["number"] for cell in act.get("cells") or ()],
        "at": act["at"],
        "by": said_by(act),
        "to": act["to"],
    }


def cell_rows(told: Told) -> list[CellRow]:
    """Return a row for each cell that somebody entered, from the left."""
    entered: dict[str, list[Json]] = {}
    for act in told.of_kind("enter"):
        entered.setdefault(act["cell"], []).append(act)
    return [_cell(told, cell, entered[cell]) for cell in told.cells if cell in entered]


def _cell(told: Told, cell: str, entered: list[Json]) -> CellRow:
    return {
        "number": told.cells[cell]["number"],
        "name": told.cells[cell]["name"],
        "entered": [act["at"] for act in entered],
        "holders": list(dict.fromkeys(who(act)["name"] for act in entered)),
        "detectors": _field(told, "G10a", cell, ("detector",)),
        "grounds": _grounds(told, cell),
        "density": _noted(told, ("HV6a",), cell),
    }


def _grounds(told: Told, cell: str) -> list[str]:
    """Return by which grounds the cell was grounded, and the path that lent one."""
    numbers = [
        ground_name(told, str(item))
        for act in told.lines("G13e", cell)
        for item in noted_of(act).get("grounds") or ()
    ]
    paths = _field(told, "G13e", cell, ("path", "lender"))
    return list(dict.fromkeys([*numbers, *paths]))


def _field(told: Told, code: str, cell: str, names: tuple[str, ...]) -> list[str]:
    """Return what was noted in some fields of a line, each once."""
    said = (
        ", ".join(
            value_words(told, told.book["fields"][name], noted_of(act)[name], act["at"])
            for name in names
            if noted_of(act).get(name)
        )
        for act in told.lines(code, cell)
    )
    return list(dict.fromkeys(filter(None, said)))
