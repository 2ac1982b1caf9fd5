"""The closed vocabulary of notes: each word, and what a note of it has to hold."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from models.judging.near import finite

# Say -> the numbers that it needs, beside `say`, `when` and `cite`.
NUMBERS: Mapping[str, tuple[str, ...]] = {
    "humidity": ("high_pct",),
}
MAY_STAND = ("say", "when", "cite")

Note = Mapping[str, Any]


def note_faults(notes: Sequence[Note], cites: int) -> Iterator[str]:
    """Yield what is wrong with each note, with its place; *cites*: how many."""
    for number, note in enumerate(notes, start=1):
        place = f"note {number}"
        word = str(note.get("say"))
        if word not in NUMBERS:
            yield f"{place} says '{word}', which is none of {tuple(NUMBERS)}"
            continue
        wanted = NUMBERS[word]
        for name in wanted:
            if not finite(note.get(name)):
                yield f"{place} ({word}): '{name}' is no number"
        for name in note.keys() - {*wanted, *MAY_STAND}:
            yield f"{place} ({word}): '{name}' is not known"
        for index in note.get("cite", ()):
            if index not in range(cites):
                yield f"{place} ({word}): there is no source {index}"
