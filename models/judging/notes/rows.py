"""The rows of readings that a note speaks of."""

from collections.abc import Sequence

from models.judging import rows
from models.judging.series import Step
from models.judging.state import State
from models.words import say


def unreadable(name: str) -> str:
    """Return the sentence for a row that cannot be read."""
    return say("series.unreadable", series=say(f"series.{name}"))


def row_of(state: State, name: str) -> Sequence[Step] | None:
    """Return the row in the condition *name*: None without one, empty if unreadable.

    One that cannot be read takes no verdict away: notes never do.
    """
    return rows.row_of(state.conditions, name)
