"""The closed vocabulary of notes: each word, and what a note of it has to hold."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from models.judging.near import finite
from models.judging.series import SERIES
from models.words import catalogue

Note = Mapping[str, Any]
Fits = Callable[[Any], bool]


def _points(value: Any) -> bool:
    """Return whether *value* is a table of two columns whose first one rises."""
    return (
        isinstance(value, Sequence)
        and len(value) > 0
        and all(len(point) == 2 and all(map(finite, point)) for point in value)
        and all(before[0] < after[0] for before, after in pairwise(value))
    )


def _bands(value: Any) -> bool:
    """Return whether *value* is a list of named bands, each end given or open."""
    return isinstance(value, Sequence) and all(map(_band, value))


def _band(band: Any) -> bool:
    ends = ("dar_from", "dar_to", "pi_from", "pi_to")
    return (
        isinstance(band, Mapping)
        and isinstance(band.get("word"), str)
        and band.keys() <= {"word", *ends}
        and all(finite(band[end]) for end in ends if end in band)
    )


def _is_sentence(value: Any) -> bool:
    return value in catalogue()


def _texts(value: Any) -> bool:
    """Return whether *value* has texts that a package keeps apart from numbers."""
    return isinstance(value, Mapping) and all(map(_is_text, value.values()))


def _is_text(value: Any) -> bool:
    try:
        float(value)
    except ValueError:
        return isinstance(value, str)
    except TypeError:
        pass
    return False


def _name_or_none(value: Any) -> bool:
    return value is None or isinstance(value, str)


def _is_row(value: Any) -> bool:
    return value in SERIES


def _is_knee(value: Any) -> bool:
    return value in ("rise", "slope")


def _number_or_none(value: Any) -> bool:
    return value is None or finite(value)


def _name(value: Any) -> bool:
    return isinstance(value, str)


def _is_base(value: Any) -> bool:
    return value in ("primary", "secondary")


def _above_zero(value: Any) -> bool:
    return finite(value) and value > 0


def _rates(value: Any) -> bool:
    """Return whether *value* is a list of numbers above zero."""
    return isinstance(value, Sequence) and all(finite(one) and one > 0 for one in value)


def _expected(value: Any) -> bool:
    """Return whether *value* is an angle, or says of which value it is a multiple."""
    if not isinstance(value, Mapping):
        return finite(value)
    return isinstance(value.get("on"), str) and all(
        finite(value[name]) for name in value if name != "on"
    )


def _leads(value: Any) -> bool:
    """Return whether *value* has the angle of each phase against phase A."""
    return (
        isinstance(value, Mapping)
        and value.keys() == {"a", "b", "c"}
        and all(map(finite, value.values()))
    )


# Say -> what it needs, beside `say`, and may have, `when` and `cite`.
NEEDS: Mapping[str, Mapping[str, Fits]] = {
    "altitude": {"altitude_m": finite, "points": _points},
    "beside": {
        "sentence": _is_sentence,
        "parts": _texts,
        "on": _name_or_none,
        "above": _number_or_none,
        "below": _number_or_none,
        "outcome": _name_or_none,
    },
    "coil_marks": {},
    "conformity": {},
    "counter": {"found": _name, "left": _name},
    "dew_point": {
        "a": finite,
        "b_c": finite,
        "from_c": finite,
        "to_c": finite,
        "margin_c": finite,
    },
    "full_load": {"on": _name, "from_pct": _above_zero},
    "held_leakage": {},
    "humidity": {"high_pct": finite},
    "leakage": {"fall_pct": finite},
    "limit_factor": {
        "of": _name,
        "times": _above_zero,
        "rct_ohm": finite,
        "burden_ohm": finite,
        "demand": _number_or_none,
    },
    "other_base": {
        "on": _name,
        "base": _is_base,
        "primary": _above_zero,
        "secondary": _above_zero,
    },
    "other_knee": {
        "series": _is_row,
        "by": _is_knee,
        "step_pct": _number_or_none,
        "value_pct": _number_or_none,
        "degrees": _number_or_none,
    },
    "polarization": {"limit_mohm": finite, "limit_c": finite, "bands": _bands},
    "same_file": {"issued": _name, "read": _name},
    "step_voltage": {"fall_pct": finite},
    "travel": {"from_mm": _number_or_none, "to_mm": _number_or_none},
    "wait_time": {"of": _name, "rates": _rates},
    "wiring_guess": {
        "expected": _expected,
        "on": _name,
        "leads": _leads,
        "most_deg": finite,
    },
}
EVERY = ("say", "when", "cite")


def note_faults(notes: Sequence[Note], cites: int) -> Iterator[str]:
    """Yield what is wrong with each note, with its place; *cites*: how many."""
    for number, note in enumerate(notes, start=1):
        word = str(note.get("say"))
        if word not in NEEDS:
            yield f"note {number} says '{word}', which is none of {tuple(NEEDS)}"
        else:
            yield from _one(f"note {number} ({word})", note, NEEDS[word], cites)


def _one(
    place: str, note: Note, needs: Mapping[str, Fits], cites: int
) -> Iterator[str]:
    for name, fits in needs.items():
        if not fits(note.get(name)):
            yield f"{place}: '{name}' is not what it has to be"
    for name in note:
        if name not in needs and name not in EVERY:
            yield f"{place}: '{name}' is not known"
    for index in note.get("cite", ()):
        if index not in range(cites):
            yield f"{place}: there is no source {index}"
