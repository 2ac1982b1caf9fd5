"""What stands of each line that is asked for, as JSON."""

from typing import Any

from models.record.safety.asked import Asked
from models.record.safety.given import Given
from models.record.safety.state import Held, State
from models.record.safety.times import moment_or_none, moment_text

LineJson = dict[str, Any]


def line_json(
    one: Asked, given: Given | None, lapse: tuple[str, int] | None = None
) -> LineJson:
    """Return a line as it stands; *lapse* by what and when, where it lapsed."""
    if given is not None and given.lapsed_at is not None:
        lapse = given.lapsed_by or "", given.lapsed_at
    state = "open" if given is None else "lapsed" if lapse else given.state
    return {
        "code": one.code,
        "item": one.item or one.person,
        "state": state,
        "by": given.by if given else None,
        "at": moment_text(given.at) if given else None,
        "noted": given.noted if given else {},
        "reason": given.reason if given else None,
        "lapsed_by": lapse[0] if lapse else None,
        "lapsed_at": moment_text(lapse[1]) if lapse else None,
    }


def line_of(state: State, scope: str, of: str, one: Asked) -> LineJson:
    """Return the line of a place as it stands."""
    given = state.lines.find(scope, of, one.code, one.item, one.person)
    return line_json(one, given)


def scope_json(
    scope: str, of: str | None, held: Held | None, lines: list[LineJson]
) -> dict[str, Any]:
    """Return a scope as it stands: crew, isolation or point."""
    held = held or Held()
    return {
        "scope": scope,
        "of": of,
        "state": state_word(held) if of is not None else "none",
        "since": moment_or_none(held.since) if held.stands else None,
        "by": held.by if held.stands else None,
        "cause": held.cause,
        "at": moment_or_none(held.cause_at),
        "lines": lines,
    }


def state_word(held: Held) -> str:
    """Return the state of a scope that was opened."""
    if held.ended is not None:
        return "ended"
    if held.stands:
        return "stands"
    return "lapsed" if held.cause is not None else "filling"
