"""What stands of crews, clearances and cells, as JSON."""

from typing import Any

from models.record.safety.asked import (
    Asked,
    of_point,
    shared_of_crew,
    shared_of_isolation,
    signed_on,
)
from models.record.safety.complete import needed_people
from models.record.safety.line_standing import line_of, scope_json
from models.record.safety.people import Json, people_noted
from models.record.safety.return_standing import return_json
from models.record.safety.state import Crew, Isolation, Item, Member, State
from models.record.safety.times import moment_or_none, moment_text

ScopeJson = dict[str, Any]


def crew_scope(state: State, crew: Crew | None) -> ScopeJson:
    """Return a crew with its lines, each person's own included."""
    if crew is None:
        return scope_json("crew", None, None, [])
    asked = list(shared_of_crew(state, crew))
    people = [key for key, one in crew.people.items() if one.left is None]
    people += [key for key in needed_people(state, crew) if key and key not in people]
    asked += [Asked(code, None, key) for key in people for code in state.own_of_crew]
    lines = [line_of(state, "crew", crew.id, one) for one in asked]
    return scope_json("crew", crew.id, crew, lines)


def crew_json(state: State, crew: Crew) -> ScopeJson:
    """Return a crew with its people."""
    charge = state.lines.find("crew", crew.id, "G01a")
    return {
        **crew_scope(state, crew),
        "in_charge": charge.by if charge else None,
        "lineups": list(crew.lineups),
        "planned_end": crew.planned_end,
        "people": [_member(one) for one in _people(state, crew)],
        "releasers": [one["name"] for one in releasers(state, crew)],
        "sets": _register(state, "set", crew.id),
        "places": _register(state, "place", crew.id),
    }


def _people(state: State, crew: Crew) -> list[Member]:
    """Return who is of the crew, and who is named but has given no line yet."""
    named = {}
    for code in ("G01a", "G02a"):
        given = state.lines.find("crew", crew.id, code)
        if given is not None and code == "G01a":
            named[given.by_key] = given.by
        elif given is not None and (people := people_noted(given.noted, "person")):
            key = needed_people(state, crew)[-1]
            named[key or ""] = people[0]["name"]
    missing = [Member(key, name) for key, name in named.items() if key]
    return [*crew.people.values(), *(m for m in missing if m.key not in crew.people)]


def releasers(state: State, crew: Crew) -> list[Json]:
    """Return who may release a stop, as the crew's latest line names them."""
    given = state.lines.find("crew", crew.id, "G25b")
    return people_noted(given.noted, "releasers") if given else []


def _member(member: Member) -> dict[str, Any]:
    return {
        "key": member.key,
        "name": member.name,
        "since": moment_or_none(member.since),
        "left": moment_or_none(member.left),
    }


def isolation_scope(state: State, isolation: Isolation | None) -> ScopeJson:
    """Return a clearance with its lines, each person's own included."""
    if isolation is None:
        return scope_json("isolation", None, None, [])
    asked = list(shared_of_isolation(state, isolation))
    asked += [
        Asked(code, None, given.by_key)
        for code in state.own_of_isolation
        for given in state.lines.people("isolation", isolation.id, code)
    ]
    lines = [line_of(state, "isolation", isolation.id, one) for one in asked]
    return scope_json("isolation", isolation.id, isolation, lines)


def isolation_json(state: State, isolation: Isolation) -> ScopeJson:
    """Return a clearance with its registers, its people and its return."""
    holder = state.lines.find("isolation", isolation.id, "G04a")
    return {
        **isolation_scope(state, isolation),
        "clearance": isolation.clearance,
        "lineup": isolation.lineup,
        "section": isolation.section,
        "holder": holder.by if holder else None,
        "people": [
            _member(Member(g.by_key, g.by, g.at, g.lapsed_at))
            for g in signed_on(state, isolation)
        ],
        "sources": _register(state, "source", isolation.id),
        "grounds": _register(state, "ground", isolation.id),
        "put_back": _register(state, "put_back", isolation.id),
        "returned_cells": list(isolation.returned),
        "returning": return_json(state, isolation),
        "returning_cells": isolation.returning_cells,
    }


def _register(state: State, register: str, of: str) -> list[ScopeJson]:
    return [
        _item(state, register, one)
        for one in state.registers.get((register, of), {}).values()
    ]


def _item(state: State, register: str, one: Item) -> ScopeJson:
    off = [s.card for s in state.suspensions if s.grounds and one.item in s.grounds]
    back = one.back and {**one.back, "at": moment_text(one.back["at"])}
    return {
        "item": one.item,
        "fields": one.fields,
        "by": one.by,
        "at": moment_text(one.at),
        "off_for": off[0] if register == "ground" and off else None,
        "back": back,
    }


def point_scope(state: State, cell: str | None) -> ScopeJson:
    """Return a cell with its lines; it is there before anybody enters it."""
    if cell is None:
        return scope_json("point", None, None, [])
    asked = [Asked(code) for code in of_point(state, cell)]
    lines = [line_of(state, "point", cell, one) for one in asked]
    point = state.points.get(cell)
    found = scope_json("point", cell, point, lines)
    return found if point else {**found, "state": "none"}


def point_json(state: State, cell: str) -> ScopeJson:
    """Return a cell with its holder."""
    point = state.points.get(cell)
    return {
        **point_scope(state, cell),
        "holder": point.holder if point else None,
        "crew": point.crew if point else None,
        "entered": moment_or_none(point.entered) if point else None,
        "inside": point.inside if point else False,
    }
