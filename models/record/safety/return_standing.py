"""What stands of the return of a clearance or of a part of it."""

from typing import Any

from models.record.safety.asked import Asked, cells_to_return, of_return
from models.record.safety.line_standing import LineJson, line_json, scope_json
from models.record.safety.state import Isolation, State


def return_json(state: State, isolation: Isolation) -> dict[str, Any]:
    """Return the return as a scope: none until it is opened."""
    found = scope_json("return", isolation.id, None, [])
    if isolation.returning_since is None:
        return {**found, "state": "ended" if isolation.ended else "none"}
    lines = return_lines(state, isolation)
    open_lines = [line for line in lines if line["state"] in ("open", "lapsed")]
    if open_lines:
        return {**found, "state": "filling", "lines": lines}
    last = max(lines, key=lambda line: line["at"], default={"at": None, "by": None})
    since_by = {"since": last["at"], "by": last["by"]}
    return {**found, **since_by, "state": "stands", "lines": lines}


def return_lines(state: State, isolation: Isolation) -> list[LineJson]:
    """Return the lines of the return; work in the part after a line re-opens it."""
    begun = isolation.returning_since or 0
    cells = cells_to_return(state, isolation)
    worked = max((state.worked.get(cell, 0) for cell in cells), default=0)
    return [
        _line(state, isolation, one, begun, worked)
        for one in of_return(state, isolation)
    ]


def _line(
    state: State, isolation: Isolation, one: Asked, begun: int, worked: int
) -> LineJson:
    given = state.lines.find("return", isolation.id, one.code, one.item, one.person)
    if given is None or given.at < begun:
        return line_json(one, None)
    again = ("worked", worked) if given.at <= worked else None
    return line_json(one, given, again)
