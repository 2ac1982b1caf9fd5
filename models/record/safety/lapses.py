"""What follows when a scope falls: each event reaches the scopes inside it.

Crew, isolation, cell and card lie inside each other. Who falls takes down the narrower
ones: a cell is left, the lines of a card's test are asked again. The lines of *after*
are never touched.
"""

from models.record.safety.complete import (
    crew_complete,
    isolation_complete,
    point_complete,
)
from models.record.safety.state import Crew, Isolation, Point, State

# Changes that leave nothing of a clearance as it was, whatever lines they touch.
BOUNDARY_WORDS = (
    "lock",
    "point",
    "ground",
    "source",
    "boundary",
    "holder",
    "clearance",
    "stop",
)


def card_lapses(state: State, card: str, word: str, at: int) -> None:
    """Ask all lines of a card's test again."""
    state.lines.lapse_all("test", card, word, at)


def cell_is_left(state: State, cell: str, at: int, why: str) -> None:
    """Leave a cell: it has to be entered again, its lines of presence given again."""
    state.lines.lapse("point", cell, "left", at)
    for card in state.places.cards(cell):
        card_lapses(state, card, "wider", at)
    point = state.points.get(cell)
    if point is not None and point.inside:
        point.inside = False
        point.fall(why, at)


def settle_point(state: State, point: Point, at: int, by: str, word: str) -> None:
    """Let a cell stand or fall after one of its lines was given or lapsed."""
    complete = point_complete(state, point)
    if complete and not point.stands:
        point.stand(at, by)
    elif not complete and point.stands:
        point.fall(word, at)
        for card in state.places.cards(point.cell):
            card_lapses(state, card, "wider", at)


def isolation_falls(
    state: State, isolation: Isolation, at: int, word: str, why: str = "wider"
) -> None:
    """Let a clearance fall: every cell under it is left, its locks are walked to."""
    isolation.fall(word, at)
    isolation.walk_due = at
    walk_again(state, isolation, word, at)
    for cell in state.covered(isolation):
        cell_falls(state, cell, at, why)


def cell_falls(state: State, cell: str, at: int, why: str) -> None:
    """Leave a cell because a wider scope fell."""
    state.lines.lapse("point", cell, "wider", at)
    cell_is_left(state, cell, at, why)


def walk_again(state: State, isolation: Isolation, word: str, at: int) -> None:
    """Ask again that each lock and ground was walked to."""
    given = state.lines.find("isolation", isolation.id, "G07b")
    if given is not None:
        given.lapse(word, at)


def settle_isolation(
    state: State, isolation: Isolation, at: int, by: str, word: str
) -> None:
    """Let a clearance stand or fall after a line of it was given or lapsed."""
    complete = isolation_complete(state, isolation)
    if complete and not isolation.stands:
        isolation.stand(at, by)
    elif not complete and isolation.stands:
        isolation_falls(state, isolation, at, word)


def isolation_changes(
    state: State,
    isolation: Isolation,
    word: str,
    at: int,
    by: str,
    item: str | None = None,
) -> None:
    """Take a change of a clearance: it falls by its word, or by a line it needs."""
    state.lines.lapse("isolation", isolation.id, word, at, item)
    if word == "boundary":
        _boundary_moves(state, isolation.lineup, at)
    if word in BOUNDARY_WORDS and isolation.stood and isolation.ended is None:
        isolation_falls(state, isolation, at, word)
    settle_isolation(state, isolation, at, by, word)


def _boundary_moves(state: State, lineup: str, at: int) -> None:
    """Ask the crews of a lineup again for its distances and boundaries."""
    for crew in state.crews.values():
        if lineup in crew.lineups and crew.ended is None:
            state.lines.lapse("crew", crew.id, "boundary", at, lineup)
            settle_crew(state, crew, at, "", "boundary")


def settle_crew(
    state: State, crew: Crew, at: int, by: str, word: str, *, quiet: bool = False
) -> None:
    """Let a crew stand or fall; *quiet*: it only waits for a line, nothing changed."""
    complete = crew_complete(state, crew)
    if complete and not crew.stands:
        crew.stand(at, by)
    elif not complete and crew.stands:
        crew.fall(word, at)
        if not quiet:
            crew_lines_lapse(state, crew, at, "wider")


def crew_lines_lapse(state: State, crew: Crew, at: int, word: str) -> None:
    """Ask again the lines of tests that people of this crew gave."""
    for card in state.lines.places("test"):
        for given in state.lines.of("test", card):
            if given.by_key in crew.people and given.code in state.book["lines"]:
                given.lapse(word, at)


def crew_leaves(state: State, crew: Crew, at: int, why: str) -> None:
    """Leave every cell that was entered under a crew; its shift is over."""
    for point in list(state.points.values()):
        if point.crew == crew.id:
            state.lines.lapse("point", point.cell, "shift", at)
            cell_is_left(state, point.cell, at, why)
            settle_point(state, point, at, "", why)
    crew_lines_lapse(state, crew, at, "wider")


def crew_ends(state: State, crew: Crew, at: int, why: str) -> None:
    """End a crew."""
    if crew.ended is None:
        crew.fall(why, at)
        crew.ended = at
        crew_leaves(state, crew, at, why)


def number_changes(state: State, crew: Crew, at: int) -> None:
    """Call again: the number of people on the crew's lineups changed."""
    for card in state.lines.places("test"):
        if state.places.lineup_of_card(card) in crew.lineups:
            state.lines.lapse("test", card, "crew", at)
