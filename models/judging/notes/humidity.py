"""High humidity: a film of moisture lowers what is read on an insulator."""

from collections.abc import Iterator

from models.judging.near import at_least
from models.judging.notes.placing import Made, value_of
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.wording import plain
from models.words import say as sentence


def make(criteria: Criteria) -> Made:
    """Return the note with the figure of common practice."""
    table = criteria.table("insulation_cautions")
    high_pct, source = value_of(table, "high relative humidity")
    return Made({"say": "humidity", "high_pct": high_pct}, [source])


def say(state: State, note: Note) -> Iterator[str]:
    """Say that the air was humid; nothing where it was not, or is not known."""
    humidity_pct = state.conditions.get("humidity_pct")
    if humidity_pct is None or not at_least(humidity_pct, note["high_pct"]):
        return
    yield sentence(
        "humidity", humidity=plain(humidity_pct), limit=plain(note["high_pct"])
    )
