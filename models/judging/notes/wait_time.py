"""How long one must wait until a leak rate can be told with the gauge in use."""

from collections.abc import Iterator

from models.judging.derive import leak_named
from models.judging.leak import wait_h
from models.judging.notes.placing import Made
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.wording import figure, plain
from models.words import say as sentence

HOURS_A_DAY = 24.0
TABLE, OF = "sf6_leakage_older", "rate"


def make(criteria: Criteria) -> Made:
    """Return the note for every rate that a print of the leakage table has."""
    rates = sorted({row["rate"] for row in criteria.table(TABLE).rows})
    return Made({"say": "wait_time", "of": OF, "rates": rates}, [])


def say(state: State, note: Note) -> Iterator[str]:
    """Say it for each of the note's rates; nothing without U of both readings."""
    leak = leak_named(state, note["of"])
    days = [(rate, wait_h(leak, rate)) for rate in note["rates"]]
    told = [
        sentence("wait_time.rate", rate=plain(rate), days=figure(hours / HOURS_A_DAY))
        for rate, hours in days
        if hours is not None
    ]
    if told:
        yield sentence("wait_time", rates="; ".join(told))
