"""When a status channel changed for good: contact bounce and short pulses."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.waveform.read import Samples

# Common practice; no published figure was found for the contacts of relays.
BOUNCE_S = 0.010  # changes that follow each other within this are one operation
GLITCH_S = 0.001  # a pulse shorter than this, with none near it, is none
BOUNCE_RULE = (
    "The first change counts; changes that follow within 10 ms are bounce of the same "
    "contact, and a single pulse below 1 ms is passed over (common practice)."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One operation of a contact: first and last change, how often it changed.

    Times are in seconds from the first sample; *away_s* is how long the contact was
    away from rest, *stays* whether it is so at the end of the record.
    """

    first_s: float
    last_s: float
    changes: int
    away_s: float
    stays: bool

    @property
    def is_glitch(self) -> bool:
        """Whether it is too short to be an operation."""
        return self.away_s < GLITCH_S and not self.stays


def operations(
    time: Samples, states: NDArray[np.int8], rest: int, first: int
) -> Sequence[Operation]:
    """Return the operations away from *rest* that begin at sample *first* or later."""
    away = (states != rest).astype(np.int8)
    steps = np.diff(np.concatenate(([0], away)))
    begins = np.flatnonzero(steps == 1)
    begins = begins[begins >= first]
    ends = np.flatnonzero(steps == -1)
    following = np.searchsorted(ends, begins)
    found: list[list[tuple[int, int | None]]] = []
    for begin, place in zip(begins.tolist(), following.tolist(), strict=True):
        spell = (begin, int(ends[place]) if place < len(ends) else None)
        previous = found[-1][-1][1] if found else None
        if previous is not None and time[begin] - time[previous] < BOUNCE_S:
            found[-1].append(spell)
        else:
            found.append([spell])
    return [_operation(time, spells) for spells in found]


def _operation(time: Samples, spells: list[tuple[int, int | None]]) -> Operation:
    """Join spells; the last change is that after which the contact rests for long."""
    away = sum(
        float(time[-1 if end is None else end] - time[begin]) for begin, end in spells
    )
    last = spells[-1][0]
    stays = spells[-1][1] is None
    changes = 2 * len(spells) - (1 if stays else 0)
    return Operation(
        first_s=float(time[spells[0][0]]),
        last_s=float(time[last]),
        changes=changes,
        away_s=away,
        stays=stays,
    )
