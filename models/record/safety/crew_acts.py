"""What acts about a crew change."""

from collections.abc import Mapping
from typing import Any

from models.record.safety.asked import in_charge
from models.record.safety.complete import signed_on_to_crew
from models.record.safety.given import Given
from models.record.safety.lapses import (
    cell_is_left,
    crew_ends,
    crew_leaves,
    number_changes,
    settle_crew,
    walk_again,
)
from models.record.safety.people import keys_named, speaker, speaker_key
from models.record.safety.state import Crew, Member, State
from models.record.safety.times import milliseconds

Json = Mapping[str, Any]


def open_crew(state: State, act: Json) -> None:
    """Begin a shift; on a clearance that stands each lock is walked to again."""
    at = milliseconds(act["at"])
    crew = Crew(
        id=act["crew"],
        lineups=list(act["lineups"]),
        planned_end=act["planned_end"],
        opened=at,
    )
    state.crews[crew.id] = crew
    _new_shift(state, crew.lineups, at)


def extend_crew(state: State, act: Json) -> None:
    """Take further lineups into a shift."""
    crew = state.crews.get(act["crew"])
    if crew is not None:
        at = milliseconds(act["at"])
        new = [one for one in act["lineups"] if one not in crew.lineups]
        crew.lineups += new
        _new_shift(state, new, at)
        settle_crew(state, crew, at, speaker(act)["name"], "lineup", quiet=True)


def _new_shift(state: State, lineups: list[str], at: int) -> None:
    for isolation in state.isolations.values():
        if isolation.lineup in lineups and isolation.stood and not isolation.ended:
            isolation.walk_due = at
            walk_again(state, isolation, "new_shift", at)
            if isolation.stands:
                isolation.fall("new_shift", at)


def end_crew(state: State, act: Json) -> None:
    """End a shift."""
    crew = state.crews.get(act["crew"])
    if crew is not None:
        crew_ends(state, crew, milliseconds(act["at"]), "shift")


def sign_off(state: State, act: Json) -> None:
    """Let a person leave a crew; without the one in charge it ends."""
    crew = state.crews.get(act["crew"])
    if crew is None or crew.ended is not None:
        return
    at, key = milliseconds(act["at"]), speaker_key(act)
    if key == in_charge(state, crew):
        crew_ends(state, crew, at, "person")
    elif key in crew.people:
        _leave(state, crew, key, at)


def _leave(state: State, crew: Crew, key: str, at: int) -> None:
    crew.people[key].since, crew.people[key].left = None, at
    for given in state.lines.of("crew", crew.id):
        own = given.by_key == key and given.code in state.own_of_crew
        named = state.lines.rests_on(given.code, "person") and key in keys_named(
            given.noted
        )
        if own or named:
            given.lapse("person", at)
    for point in list(state.points.values()):
        if point.crew == crew.id and point.holder_key == key:
            cell_is_left(state, point.cell, at, "person")
    number_changes(state, crew, at)
    stood = crew.stands
    settle_crew(state, crew, at, "", "person")
    if stood and not crew.stands:
        crew_leaves(state, crew, at, "person")


def line_of_crew(state: State, act: Json, before: Given | None) -> None:
    """Take a line of a crew; *before* is the one that it takes the place of."""
    crew = state.crews.get(act["of"])
    if crew is None:
        return
    at, key, code = milliseconds(act["at"]), speaker_key(act), act["code"]
    word = "person"
    if code == "G01a" and before is not None and before.by_key != key:
        word = "charge"
        state.lines.lapse("crew", crew.id, word, at)
    if code == "G03a" and before is not None:
        word = "briefing"
        state.lines.lapse("crew", crew.id, word, at)
    if code in state.own_of_crew:
        _sign_on(state, crew, act, at)
    settle_crew(state, crew, at, speaker(act)["name"], word)


def _sign_on(state: State, crew: Crew, act: Json, at: int) -> None:
    key = speaker_key(act)
    member = crew.people.setdefault(key, Member(key, speaker(act)["name"]))
    if member.since is None and signed_on_to_crew(state, crew, key):
        member.since, member.left = at, None
        if crew.stood:
            number_changes(state, crew, at)


def permit_ends(state: State, act: Json, at: int) -> None:
    """Lapse the line of a permit at its end, unless another took its place."""
    crew = state.crews.get(act["of"])
    given = state.lines.find("crew", act["of"], act["code"], act.get("item"))
    if crew is None or given is None or not state.lines.rests_on(given.code, "permit"):
        return
    if given.noted.get("permit_end") == act["noted"]["permit_end"]:
        given.lapse("permit", at)
        settle_crew(state, crew, at, "", "permit")
