"""The rise of temperature at full load, worked out beside the verdict of a survey.

The bands of a survey are of the rise as it was seen. What a part carries at full load
tells how soon it has to be looked at: heat grows with the square of the current
(common practice; the true rise is less where cooling grows with it).
"""

from collections.abc import Iterator

from models.judging.derive import READING, value_named
from models.judging.near import at_least
from models.judging.notes.placing import Made
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.wording import figure, plain
from models.words import say as sentence

FULL_PCT = 100.0
LEAST = "load in a thermographic survey, of rated"


def make(criteria: Criteria) -> Made:
    """Return the note with the load below which no survey is judged."""
    table = criteria.table("site_needs")
    row = next(row for row in table.rows if row["row"] == LEAST)
    return Made(
        {"say": "full_load", "on": "load_pct", "from_pct": row["least"]},
        [table.cite(row)],
    )


def say(state: State, note: Note) -> Iterator[str]:
    """Say the rise at full load; nothing at it, above it, or under too low a load."""
    load, read = state.conditions.get(note["on"]), value_named(state, READING)
    if load is None or read is None or not read.exact:
        return
    if load < FULL_PCT and at_least(load, note["from_pct"]):
        full = read.shown * (FULL_PCT / load) ** 2
        yield sentence(
            "full_load", rise=figure(read.shown), load=plain(load), full=figure(full)
        )
