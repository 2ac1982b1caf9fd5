"""Whether a cell may be entered."""

from collections.abc import Mapping
from typing import Any

from models.record.safety.fault import FaultJson, crew_faults, fault, scope_faults
from models.record.safety.people import speaker_key
from models.record.safety.point_acts import grounds_of
from models.record.safety.reasons import (
    Reason,
    crew_reasons,
    isolation_reasons,
    reason,
    stopped,
)
from models.record.safety.state import State
from models.record.safety.times import moment_text

Json = Mapping[str, Any]


def check_enter(state: State, act: Json, _at: int) -> list[FaultJson]:
    """Return what forbids to enter a cell: a wider scope, a holder, a ground off."""
    cell, who = act["cell"], speaker_key(act)
    lineup = state.places.lineup(cell)
    if lineup is None:
        return [fault("cell", "cell_unknown")]
    wrong = crew_faults(state.crews.get(act["crew"]))
    if wrong:
        return wrong
    reasons = [*stopped(state), *crew_reasons(state, lineup, who)]
    reasons += isolation_reasons(state, cell, who)
    reasons += _held(state, cell, who) + _grounds_off(state, act)
    return scope_faults(reasons)


def _held(state: State, cell: str, who: str) -> list[Reason]:
    point = state.points.get(cell)
    if point is None or not point.inside or point.holder_key == who:
        return []
    crew = state.crews.get(point.crew)
    if crew is not None and who in crew.people:
        return []  # one of the same crew takes the cell over
    return [reason("point_held", by=point.holder)]


def _grounds_off(state: State, act: Json) -> list[Reason]:
    """Return the grounds of this clearance that are off for a card of another cell.

    A cell that was never entered may rest on any of them.
    """
    cell = act["cell"]
    holds = grounds_of(state, cell)
    register = state.registers.get(("ground", act["isolation"] or ""), {})
    return [
        reason("ground_off", card=one.card, ground=ground, since=moment_text(one.since))
        for one in state.suspensions
        if one.cell != cell
        for ground in one.grounds or []
        if ground in holds or (not holds and ground in register)
    ]
