"""What a rule's notes say at the end of a working."""

from collections.abc import Callable, Iterable, Iterator, Mapping

from models.judging.notes import (
    altitude,
    beside,
    conformity,
    counter,
    dew_point,
    full_load,
    humidity,
    leakage,
    limit_factor,
    other_base,
    other_knee,
    polarization,
    records,
    same_file,
    step_voltage,
    wait_time,
    wiring_guess,
)
from models.judging.notes.vocabulary import Note
from models.judging.rules import applies
from models.judging.state import State

SPEAKERS: Mapping[str, Callable[[State, Note], Iterable[str]]] = {
    "altitude": altitude.say,
    "beside": beside.say,
    "coil_marks": records.say_marks,
    "conformity": conformity.say,
    "counter": counter.say,
    "dew_point": dew_point.say,
    "full_load": full_load.say,
    "held_leakage": leakage.say_held,
    "humidity": humidity.say,
    "leakage": leakage.say,
    "limit_factor": limit_factor.say,
    "other_base": other_base.say,
    "other_knee": other_knee.say,
    "polarization": polarization.say,
    "same_file": same_file.say,
    "step_voltage": step_voltage.say,
    "travel": records.say_travel,
    "wait_time": wait_time.say,
    "wiring_guess": wiring_guess.say,
}


def said_notes(state: State) -> Iterator[tuple[Note, list[str]]]:
    """Yield the notes of the rule that have something to say, with their sentences."""
    for note in state.rule.notes:
        if applies(note, state.conditions):
            sentences = list(SPEAKERS[note["say"]](state, note))
            if sentences:
                yield note, sentences
