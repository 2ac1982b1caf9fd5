"""The rows of readings that a note speaks of."""

from collections.abc import Sequence

from models.errors import InputError
from models.judging.series import Step, parse_series
from models.judging.state import State
from models.words import say


def unreadable(name: str) -> str:
    """Return the sentence for a row that cannot be read."""
    return say("series.unreadable", series=say(f"series.{name}"))


def row_of(state: State, name: str) -> Sequence[Step] | None:
    """Return the row in the condition *name*: None without one, empty if unreadable.

    Rows are checked where they are entered. One that cannot be read takes no verdict
    away: notes never do.
    """
    text = state.conditions.get(name)
    if text is None:
        return None
    try:
        return parse_series(name, str(text))
    except InputError:
        return ()
