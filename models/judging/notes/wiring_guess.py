"""What wrong wiring would give a measured angle: a guess beside the verdict.

Currents and voltages of a three-phase system stand a third of a turn apart, and an
exchanged polarity turns by half a turn: whatever is exchanged, the angle moves by a
multiple of 60 degrees. The multiple that lies nearest tells what to look for.
"""

from collections.abc import Iterator
from typing import Any

from models.judging.angles import TURN, wrapped
from models.judging.derive import READING, value_named
from models.judging.expected import expected_value
from models.judging.notes.placing import Made
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.judging.tables import Criteria
from models.judging.wording import figure
from models.words import say as sentence

TABLE, MOST = "phase_angles", "guess of wrong wiring, off by at most"
PHASES = ("a", "b", "c")
POLARITIES = ((0.0, "phase"), (TURN / 2, "phase_turned"))


def make(criteria: Criteria, rotation: str | None, expected: Any) -> Made | None:
    """Return the note where the site's rotation is known.

    *expected*: what the angle is expected to be, as a bound `near_angle` says it.
    """
    if rotation is None:
        return None
    table = criteria.table(TABLE)
    rows = {row["row"]: row for row in table.rows}
    note = {
        "say": "wiring_guess",
        "expected": expected,
        "on": "phase",
        "leads": {
            "a": 0.0,
            "b": rows["Vb"][rotation],
            "c": rows["Vc"][rotation],
        },
        "most_deg": rows[MOST]["within_deg"],
    }
    return Made(note, [table.cite(rows[MOST])])


def say(state: State, note: Note) -> Iterator[str]:
    """Say the wiring that fits best; nothing where it is as drawn, or none fits."""
    phase = state.conditions.get(note["on"])
    read = value_named(state, READING)
    expected = expected_value(state, note["expected"])
    if phase not in PHASES or read is None or not read.exact or expected is None:
        return
    difference = wrapped(read.shown - expected)
    rest, wiring, other = _nearest(note["leads"], phase, difference)
    if (other, wiring) == (phase, "phase") or abs(rest) > note["most_deg"]:
        return
    if other == phase:
        wiring = "turned"
    yield sentence(
        "wiring_guess",
        difference=figure(difference),
        wiring=sentence(f"wiring_guess.{wiring}", phase=other.upper()),
        rest=figure(rest),
    )


def _nearest(
    leads: dict[str, float], phase: str, difference: float
) -> tuple[float, str, str]:
    """Return what is left of *difference*, how the polarity lies, and whose it is."""
    found = [
        (wrapped(difference - (leads[other] - leads[phase] + turn)), wiring, other)
        for other in PHASES
        for turn, wiring in POLARITIES
    ]
    return min(found, key=lambda one: abs(one[0]))
