"""Whether all lines that a scope needs count."""

from models.record.safety.asked import (
    in_charge,
    of_point,
    second_person,
    shared_of_crew,
    shared_of_isolation,
)
from models.record.safety.state import Crew, Isolation, Point, State


def crew_complete(state: State, crew: Crew) -> bool:
    """Return whether the shared lines count, and two people's own lines."""
    if crew.ended is not None:
        return False
    if not all(
        state.lines.counts("crew", crew.id, one.code, one.item)
        for one in shared_of_crew(state, crew)
    ):
        return False
    return all(
        signed_on_to_crew(state, crew, key) for key in needed_people(state, crew)
    )


def needed_people(state: State, crew: Crew) -> list[str | None]:
    """Return who a crew cannot do without; None for one who is not named.

    The second person is another than the one in charge.
    """
    first, second = in_charge(state, crew), state.lines.find("crew", crew.id, "G02a")
    if "G02a" not in state.book["crew"]:
        return [first]
    if second is not None and second.state != "given":
        return [first]
    key = second_person(state, crew)
    return [first, None if key == first else key]


def signed_on_to_crew(state: State, crew: Crew, key: str | None) -> bool:
    """Return whether a person's own lines all count."""
    return key in crew.people and all(
        state.lines.counts("crew", crew.id, code, None, key)
        for code in state.own_of_crew
    )


def isolation_complete(state: State, isolation: Isolation) -> bool:
    """Return whether all lines of a clearance count, item by item."""
    return isolation.ended is None and all(
        state.lines.counts("isolation", isolation.id, one.code, one.item)
        for one in shared_of_isolation(state, isolation)
    )


def point_complete(state: State, point: Point) -> bool:
    """Return whether a cell is entered and all its lines count."""
    return point.inside and all(
        state.lines.counts("point", point.cell, code)
        for code in of_point(state, point.cell)
    )
