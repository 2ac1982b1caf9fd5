"""What stands for one card, as JSON."""

from typing import Any

from models.record.safety.after_lines import after_lines, discharge
from models.record.safety.asked import Asked, of_card
from models.record.safety.line_standing import LineJson, line_json
from models.record.safety.reasons import (
    Ask,
    crew_of,
    isolation_of,
    lapse_of,
    reasons,
)
from models.record.safety.scope_standing import (
    crew_scope,
    isolation_scope,
    point_scope,
)
from models.record.safety.state import State
from models.record.safety.times import moment_text

NOT_GIVEN = ("open", "lapsed")


def card_json(state: State, ask: Ask) -> dict[str, Any]:
    """Return whether a card is open for a person, why not, and its scopes."""
    closed_by = reasons(state, ask)
    cell = state.places.cell(ask.card)
    lineup = state.places.lineup(cell)
    return {
        "open": not closed_by,
        "reasons": closed_by,
        "crew": crew_scope(state, crew_of(state, lineup, ask.person)),
        "isolation": isolation_scope(state, isolation_of(state, cell, ask.person)),
        "point": point_scope(state, cell),
        "test": _list("test", ask.card, _test_lines(state, ask)),
        "after": _list("after", ask.card, after_lines(state, ask.card, ask.choice)),
        "discharge": _discharge(state, ask.card),
    }


def _test_lines(state: State, ask: Ask) -> list[LineJson]:
    found = []
    for code in of_card(state, ask.card, ask.choice, "before"):
        given = state.lines.find("test", ask.card, code)
        lapse = lapse_of(state, ask.card, given, ask.at) if given else None
        found.append(line_json(Asked(code), given, lapse))
    return found


def _list(scope: str, card: str, lines: list[LineJson]) -> dict[str, Any]:
    """Return the lines of a card as a scope: none, filling, stands or lapsed."""
    left = [line for line in lines if line["state"] in NOT_GIVEN]
    lapsed = [line for line in left if line["state"] == "lapsed"]
    given = [line for line in lines if line not in left]
    word = "none" if not lines else "lapsed" if lapsed else "filling"
    last = max(given, key=lambda line: line["at"], default=None)
    cause = max(lapsed, key=lambda line: line["lapsed_at"], default=None)
    stands = last if last is not None and not left else None
    return {
        "scope": scope,
        "of": card,
        "state": "stands" if stands else word,
        "since": stands["at"] if stands else None,
        "by": stands["by"] if stands else None,
        "cause": cause["lapsed_by"] if cause else None,
        "at": cause["lapsed_at"] if cause else None,
        "lines": lines,
    }


def _discharge(state: State, card: str) -> dict[str, Any] | None:
    timer = discharge(state, card)
    if timer is None:
        return None
    off, over = timer
    dc_s = state.card(card).dc_s
    return {"off_at": moment_text(off), "dc_s": dc_s, "over_at": moment_text(over)}
