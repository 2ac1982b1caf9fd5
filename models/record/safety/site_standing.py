"""What stands on a site, as JSON."""

from typing import Any

from models.record.safety.scope_standing import crew_json, isolation_json, point_json
from models.record.safety.state import State
from models.record.safety.times import moment_text


def site_json(state: State) -> dict[str, Any]:
    """Return the stop in force, crews, clearances and cells."""
    cells = dict.fromkeys([*state.book["point"], *state.points])
    return {
        "stop": _stop(state),
        "crews": [crew_json(state, crew) for crew in state.crews.values()],
        "isolations": [isolation_json(state, one) for one in state.isolations.values()],
        "points": {cell: point_json(state, cell) for cell in cells},
    }


def _stop(state: State) -> dict[str, Any] | None:
    for stop in state.stops.values():
        return {
            "stop": stop.stop,
            "by": stop.by,
            "at": moment_text(stop.at),
            "device": stop.device,
        }
    return None
