"""What acts about a cell change."""

from collections.abc import Mapping
from typing import Any

from models.record.safety.asked import of_point
from models.record.safety.lapses import cell_is_left, settle_point
from models.record.safety.people import speaker, speaker_key
from models.record.safety.state import Point, State
from models.record.safety.times import milliseconds

Json = Mapping[str, Any]

# Changes of a cell that move the path through which it lends its ground to another.
LENDER_WORDS = ("ground", "moved", "switch", "breaker", "block")


def enter(state: State, act: Json) -> None:
    """Enter a cell: its holder leaves the others, but those where somebody stays."""
    cell, at = act["cell"], milliseconds(act["at"])
    key, name = speaker_key(act), speaker(act)["name"]
    for point in list(state.points.values()):
        other = point.cell != cell and point.holder_key == key and point.inside
        if other and point.cell not in (act.get("stays") or {}):
            cell_is_left(state, point.cell, at, "left")
    point = state.points.setdefault(cell, Point(cell=cell))
    if point.inside and point.holder_key != key:
        cell_is_left(state, cell, at, "left")
    if point.isolation != act["isolation"]:
        _rest_on_another(state, cell, act["isolation"])
    point.holder, point.holder_key, point.crew = name, key, act["crew"]
    point.isolation, point.entered, point.inside = act["isolation"], at, True
    state.worked[cell] = at
    settle_point(state, point, at, name, "wider")


def _rest_on_another(state: State, cell: str, isolation: str | None) -> None:
    """Ask the lines of a cell anew that were given before this clearance was taken."""
    if isolation in state.isolations:
        opened = state.isolations[isolation].opened
        state.lines.lapse_all("point", cell, "wider", opened)


def leave(state: State, act: Json) -> None:
    """Leave a cell."""
    cell_is_left(state, act["cell"], milliseconds(act["at"]), "left")


def line_of_point(state: State, act: Json) -> None:
    """Take a line of a cell."""
    point = state.points.get(act["of"])
    if point is not None:
        at = milliseconds(act["at"])
        settle_point(state, point, at, speaker(act)["name"], "wider")


def cell_changes(state: State, cell: str, word: str, at: int, item: str | None) -> None:
    """Take a change at a cell; who borrows its ground is touched too."""
    state.lines.lapse("point", cell, word, at, item)
    if word in LENDER_WORDS:
        for borrower in _borrowers(state, cell):
            _ground_lapses(state, borrower, "ground", at)
            _ground_lapses(state, cell, "ground", at)
    if cell in state.points:
        settle_point(state, state.points[cell], at, "", word)


def ground_moves(state: State, ground: str | None, at: int) -> None:
    """Lapse that a primary is grounded wherever this ground does it."""
    for cell in list(state.points):
        if ground is None or ground in grounds_of(state, cell):
            _ground_lapses(state, cell, "ground", at)


def grounds_of(state: State, cell: str) -> list[str]:
    """Return the grounds that hold the primary of a cell, as it was last noted."""
    given = state.lines.find("point", cell, "G13e")
    grounds = given.noted.get("grounds") if given else None
    return list(grounds) if isinstance(grounds, list) else []


def _borrowers(state: State, lender: str) -> list[str]:
    found = []
    for cell in state.points:
        given = state.lines.find("point", cell, "G13e")
        if given is not None and given.noted.get("lender") == lender:
            found.append(cell)
    return found


def _ground_lapses(state: State, cell: str, word: str, at: int) -> None:
    given = state.lines.find("point", cell, "G13e")
    if given is not None:
        given.lapse(word, at)
    if cell in state.points and "G13e" in of_point(state, cell):
        settle_point(state, state.points[cell], at, "", word)
