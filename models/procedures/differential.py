"""A dual-slope differential: the corners of its characteristic, and what to inject.

Per unit of tap. Two forms: lines through the origin (from memory), and lines that leave
the pickup at half of it (transformer differential testing procedure, as printed: with
pickup 0.3 and slope 30 % it gives 0.30 at 0.15 and 0.48 at 0.75).
"""

from typing import NamedTuple

from models.procedures.subject import Subject

LAST_PU = 50.0  # no restraint is injected beyond it: the greatest of `restraint_pu`
ORIGIN, FROM_PICKUP = "origin", "from_pickup"


class Slopes(NamedTuple):
    """How the characteristic is set: pickup and break per unit, slopes as shares."""

    form: str
    pickup: float
    slope_1: float
    slope_2: float
    break_at: float


def slopes_of(subject: Subject) -> Slopes:
    """Return how the characteristic is set; a setting that is not known is zero."""

    def number(name: str) -> float:
        return subject.number(name) or 0.0

    return Slopes(
        form=str(subject.word("diff_form")),
        pickup=number("diff_pickup_pu"),
        slope_1=number("slope_1_pct") / 100,
        slope_2=number("slope_2_pct") / 100,
        break_at=number("break_pu"),
    )


def corners(set_to: Slopes) -> list[list[float]]:
    """Return [restraint, operate current] at each corner, from 0 to LAST_PU.

    Raises ValueError where the break lies before the first slope begins.
    """
    flat = _flat(set_to)
    if set_to.break_at <= flat:
        raise ValueError("the break lies before the first slope begins")
    at_break = _first(set_to, set_to.break_at)
    last = at_break + set_to.slope_2 * (LAST_PU - set_to.break_at)
    ends = [
        [0.0, set_to.pickup],
        [flat, set_to.pickup],
        [set_to.break_at, at_break],
        [LAST_PU, last],
    ]
    return [end for n, end in enumerate(ends) if n == 0 or end[0] > ends[n - 1][0]]


def _flat(set_to: Slopes) -> float:
    """Return up to which restraint the pickup alone holds."""
    if set_to.form == FROM_PICKUP:
        return set_to.pickup / 2
    return set_to.pickup / set_to.slope_1 if set_to.slope_1 > 0 else LAST_PU


def _first(set_to: Slopes, restraint: float) -> float:
    """Return the operate current on the first slope."""
    if set_to.form == FROM_PICKUP:
        return set_to.slope_1 * restraint + set_to.pickup * (1 - set_to.slope_1 / 2)
    return set_to.slope_1 * restraint


def injected(
    restraint_as: str, restraint: float, operate: float
) -> tuple[float, float]:
    """Return both winding currents per unit, through current, winding 1 the greater.

    I1 - I2 is the operate current; the restraint is the average, the sum or the maximum
    of both (the definitions are those of the relay's manual).
    """
    if restraint_as == "average":
        return restraint + operate / 2, restraint - operate / 2
    if restraint_as == "sum":
        return (restraint + operate) / 2, (restraint - operate) / 2
    return restraint, restraint - operate
