"""Bands: a value takes the verdict of the band that it lies in."""

from models.judging.measured import Measured
from models.judging.near import at_least
from models.judging.parts import Part
from models.judging.state import State
from models.judging.verdicts import Verdict, verdict_of


def find_in_band(state: State, part: Part, measured: Measured) -> None:
    """Find the bands that the value may lie in, with U about it.

    A band holds its upper end; where they differ, U does not tell, and a bound decides
    nothing.
    """
    first, last = band_of(part, measured.least), band_of(part, measured.most)
    found = {band["verdict"] for band in part["bands"][first : last + 1]}
    if len(found) == 1:
        verdict = Verdict(found.pop())
    else:
        verdict = verdict_of(sure=False, perhaps=True, exact=measured.exact)
    numbers = {"first": first, "last": last}
    state.find(verdict, "band", part, high=band_limit(part), numbers=numbers)


def band_of(part: Part, value: float) -> int:
    """Return the place of the band that holds *value*; the last one has no end."""
    ends = [band["to"] for band in part["bands"] if "to" in band]
    found = (at for at, end in enumerate(ends) if at_least(end, value))
    return next(found, len(ends))


def band_limit(part: Part) -> float | None:
    """Return up to which value everything is within; None: there is no such end."""
    limit = None
    for band in part["bands"]:
        if band["verdict"] != Verdict.WITHIN:
            break
        limit = band.get("to")
    return limit
