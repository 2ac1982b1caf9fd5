"""Why a card is closed for a person at a moment: the widest reason first."""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from models.record.safety.asked import (
    of_card,
    of_point,
    shared_of_crew,
    shared_of_isolation,
)
from models.record.safety.card_acts import idle_since
from models.record.safety.complete import needed_people, signed_on_to_crew
from models.record.safety.given import Given
from models.record.safety.point_acts import grounds_of
from models.record.safety.state import Crew, Isolation, Point, State, Suspension
from models.record.safety.times import moment_or_none, moment_text
from models.record.safety.waits import waiting

Json = Mapping[str, Any]
Reason = dict[str, Any]


class Ask(NamedTuple):
    """Who wants to record on which card, when, with which supply or method."""

    card: str
    person: str
    at: int
    choice: str | None = None


def reason(code: str, **facts: Any) -> Reason:
    """Return a reason with what it names."""
    return {"code": code, "facts": facts}


def reasons(state: State, ask: Ask) -> list[Reason]:
    """Return why the card is closed; empty: it is open for readings."""
    return [*scope_reasons(state, ask), *test_reasons(state, ask)]


def scope_reasons(state: State, ask: Ask) -> list[Reason]:
    """Return what closes the card but for the lines of its test."""
    rests_on = state.lists(ask.card)["rests_on"]
    cell = state.places.cell(ask.card)
    found = list(stopped(state))
    if "crew" in rests_on:
        found += crew_reasons(state, state.places.lineup(cell), ask.person)
    if "isolation" in rests_on:
        found += isolation_reasons(state, cell, ask.person)
    if "point" in rests_on and cell is not None:
        found += _point_reasons(state, cell, ask.person)
    found += _suspended(state, ask.card, cell)
    found += waiting(state, ask.card, ask.person, cell)
    return found


def stopped(state: State) -> Iterator[Reason]:
    """Yield the first stop that is in force."""
    for stop in list(state.stops.values())[:1]:
        yield reason("stopped", by=stop.by, at=moment_text(stop.at))


def crew_of(state: State, lineup: str | None, person: str) -> Crew | None:
    """Return the crew of a person that works on a lineup, else the one that does.

    A person's own comes first, then one that has not ended, then the latest.
    """
    found = [c for c in state.crews.values() if lineup is None or lineup in c.lineups]
    return max(
        found,
        key=lambda c: (
            c.ended is None,
            signed_on_to_crew(state, c, person),
            c.opened,
        ),
        default=None,
    )


def crew_reasons(state: State, lineup: str | None, person: str) -> list[Reason]:
    """Return why no crew of this person stands on the lineup."""
    crew = crew_of(state, lineup, person)
    if crew is None:
        return [reason("crew_none")]
    if crew.ended is not None:
        return [reason("crew_ended", at=moment_text(crew.ended))]
    if not crew.stands and crew.cause is not None:
        at = moment_or_none(crew.cause_at)
        return [reason("crew_lapsed", why=crew.cause, at=at)]
    if not crew.stands:
        return [reason("crew_open", open=crew_open_lines(state, crew))]
    if not signed_on_to_crew(state, crew, person):
        return [reason("crew_not_signed_on")]
    return []


def crew_open_lines(state: State, crew: Crew) -> int:
    """Return how many lines a crew still needs."""
    shared = sum(
        not state.lines.counts("crew", crew.id, one.code, one.item)
        for one in shared_of_crew(state, crew)
    )
    own = sum(
        not state.lines.counts("crew", crew.id, code, None, key)
        for key in needed_people(state, crew)
        for code in state.own_of_crew
    )
    return shared + own


def isolation_of(state: State, cell: str | None, person: str) -> Isolation | None:
    """Return the clearance over a cell: the one this person signed on to first."""
    found = [
        i
        for i in state.isolations.values()
        if cell in state.places.section(i.lineup, i.section)
    ]
    return max(
        found,
        key=lambda i: (
            i.ended is None and cell not in i.returned,
            signed_on_to_isolation(state, i, person),
            i.opened,
        ),
        default=None,
    )


def signed_on_to_isolation(state: State, isolation: Isolation, person: str) -> bool:
    """Return whether a person signed on to a clearance."""
    return all(
        state.lines.counts("isolation", isolation.id, code, None, person)
        for code in state.own_of_isolation
    )


def isolation_reasons(state: State, cell: str | None, person: str) -> list[Reason]:
    """Return why no clearance stands over the cell for this person."""
    isolation = isolation_of(state, cell, person)
    if isolation is None:
        return [reason("isolation_none")]
    if isolation.ended is not None:
        return [reason("isolation_ended", at=moment_text(isolation.ended))]
    if cell in isolation.returned:
        return [reason("isolation_none")]
    found = []
    if not isolation.stands and isolation.cause is not None:
        at = moment_or_none(isolation.cause_at)
        found = [reason("isolation_lapsed", why=isolation.cause, at=at)]
    elif not isolation.stands:
        found = [reason("isolation_open", open=_isolation_open(state, isolation))]
    if not signed_on_to_isolation(state, isolation, person):
        found.append(reason("isolation_not_signed_on"))
    return found


def _isolation_open(state: State, isolation: Isolation) -> int:
    return sum(
        not state.lines.counts("isolation", isolation.id, one.code, one.item)
        for one in shared_of_isolation(state, isolation)
    )


def cell_reasons(state: State, cell: str, person: str) -> list[Reason]:
    """Return why a line of a cell may not be given: it is not open for this person."""
    found = [*stopped(state)]
    found += crew_reasons(state, state.places.lineup(cell), person)
    found += isolation_reasons(state, cell, person)
    found += _point_reasons(state, cell, person)
    return [one for one in found if one["code"] != "point_open"]


def _point_reasons(state: State, cell: str, person: str) -> list[Reason]:
    point = state.points.get(cell)
    if point is None:
        return [reason("point_not_entered")]
    found = []
    if not _of_holders_crew(state, point, person):
        found.append(reason("point_held", by=point.holder))
    if not point.inside:
        at = moment_or_none(point.cause_at)
        found.append(reason("point_left", at=at, why=point.cause))
    elif not point.stands:
        open_lines = [
            code
            for code in of_point(state, cell)
            if not state.lines.counts("point", cell, code)
        ]
        found.append(reason("point_open", open=len(open_lines)))
    return found


def _of_holders_crew(state: State, point: Point, person: str) -> bool:
    """Return whether the person works with the holder; nobody holds a cell left."""
    crew = state.crews.get(point.crew)
    return not point.inside or (crew is not None and person in crew.people)


def _suspended(state: State, card: str, cell: str | None) -> Iterator[Reason]:
    if cell is None:
        return
    for one in state.suspensions:
        if one.card != card and one.code in of_point(state, cell):
            yield from _suspension(state, one, cell)


def _suspension(state: State, one: Suspension, cell: str) -> Iterator[Reason]:
    since = moment_text(one.since)
    if one.grounds is None:
        if one.cell == cell:
            yield reason("springs_charged", card=one.card, since=since)
        return
    for ground in one.grounds:
        if ground in grounds_of(state, cell):
            yield reason("ground_off", card=one.card, ground=ground, since=since)


def test_reasons(state: State, ask: Ask) -> list[Reason]:
    """Return the lines of the card's test that are open, and those asked again."""
    codes = of_card(state, ask.card, ask.choice, "before")
    found = {code: state.lines.find("test", ask.card, code) for code in codes}
    never = [code for code, given in found.items() if given is None]
    again = {
        code: lapse
        for code, given in found.items()
        if given is not None and (lapse := lapse_of(state, ask.card, given, ask.at))
    }
    reasons_found = []
    if never:
        reasons_found.append(reason("test_open", open=len(never), codes=never))
    if again:
        why, at = max(again.values(), key=lambda lapse: lapse[1])
        reasons_found.append(
            reason("asked_again", codes=list(again), why=why, at=moment_text(at))
        )
    return reasons_found


def lapse_of(state: State, card: str, given: Given, at: int) -> tuple[str, int] | None:
    """Return by what and when a line of a test lapsed, None while it counts."""
    if given.lapsed_at is not None and given.lapsed_by is not None:
        return given.lapsed_by, given.lapsed_at
    idle = idle_since(state, card, at)
    if (
        idle is not None
        and idle > given.at
        and state.lines.rests_on(given.code, "idle")
    ):
        return "idle", idle
    return None
