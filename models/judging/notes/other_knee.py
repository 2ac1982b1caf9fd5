"""The knee by the definition that does not decide: the two give different volts."""

import math
from collections.abc import Iterator

from models.judging.notes.rows import row_of
from models.judging.notes.vocabulary import Note
from models.judging.quantities import said_unit
from models.judging.rows import log_curve, points_of
from models.judging.sentences.rows import definition_of
from models.judging.series import SERIES
from models.judging.series_words import knee_of
from models.judging.state import State
from models.judging.wording import figure
from models.words import say as sentence


def say(state: State, note: Note) -> Iterator[str]:
    """Say where it lies, or that there is none; nothing without a curve."""
    name = note["series"]
    steps = row_of(state, name)
    curve = log_curve(points_of(name, steps)) if steps else None
    if not steps or curve is None:
        return
    found, definition = knee_of(note, steps), definition_of(note)
    if isinstance(found, str):
        yield sentence("other_knee.none", definition=definition)
        return
    volts, kind = found.bound, SERIES[name]
    amperes = math.exp(curve.value(math.log(volts)))
    yield sentence(
        "other_knee",
        definition=definition,
        volts=f"{figure(volts)} {kind.step_unit}",
        amperes=f"{figure(amperes)} {said_unit(kind.unit)}",
    )
