"""Say a rule's notes at the end of a working."""

from collections.abc import Callable, Iterable, Mapping

from models.judging.notes import (
    altitude,
    conformity,
    dew_point,
    humidity,
    leakage,
    polarization,
    step_voltage,
)
from models.judging.notes.vocabulary import Note
from models.judging.rules import applies
from models.judging.state import State

SPEAKERS: Mapping[str, Callable[[State, Note], Iterable[str]]] = {
    "altitude": altitude.say,
    "conformity": conformity.say,
    "dew_point": dew_point.say,
    "humidity": humidity.say,
    "leakage": leakage.say,
    "polarization": polarization.say,
    "step_voltage": step_voltage.say,
}


def say_notes(state: State) -> None:
    """Add what the rule's notes say, and the sources of those that said something."""
    for note in state.rule.notes:
        if not applies(note, state.conditions):
            continue
        said = list(SPEAKERS[note["say"]](state, note))
        state.working.extend(said)
        if said:
            for index in note.get("cite", ()):
                state.source(index)
