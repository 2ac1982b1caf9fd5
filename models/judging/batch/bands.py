"""Bands and angles, in columns."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from models.judging.angles import wrapped
from models.judging.bands import band_limit
from models.judging.batch.codes import (
    MARGINAL,
    UNJUDGED,
    VERDICT_CODES,
    Mask,
    Numbers,
)
from models.judging.batch.gates import Part, at_least
from models.judging.batch.limits import expected_of, usual
from models.judging.batch.measured import Measured
from models.judging.batch.state import State

APART = 0  # the code of bands that do not say the same


def compare_bands(state: State, bound: Part, of: Measured, where: Mask) -> None:
    """Take the verdict of the bands that a value with its U may lie in."""
    bands = bound["bands"]
    ends = [band["to"] for band in bands if "to" in band]
    codes = [VERDICT_CODES.index(band["verdict"]) for band in bands]
    at = range(len(bands))
    alike = np.array([[_alike(codes, first, last) for last in at] for first in at])
    found = alike[_place(ends, of.least), _place(ends, of.most)]
    apart = np.where(of.exact, MARGINAL, UNJUDGED)
    limit = band_limit(bound)
    if bound.get("of") is None and limit is not None:
        state.narrow(where, high=limit)
    state.find(where, np.where(found == APART, apart, found).astype(np.uint8))


def _alike(codes: Sequence[int], first: int, last: int) -> int:
    found = set(codes[first : last + 1])
    return found.pop() if len(found) == 1 else APART


def _place(ends: Sequence[float], value: Numbers) -> NDArray[np.intp]:
    """Return the place of the band that holds each value."""
    beyond = [~at_least(np.float64(end), value) for end in ends]
    return np.sum(beyond, axis=0, dtype=np.intp) + np.zeros(value.shape, np.intp)


def compare_angles(state: State, bound: Part, of: Measured, where: Mask) -> None:
    """Compare with an angle the shorter way round; a bound decides nothing."""
    expected, within = expected_of(state, bound["expected"]), bound["within_deg"]
    known = np.isfinite(expected)
    state.find(where & ~known, UNJUDGED)
    where = where & known
    away = np.abs(wrapped(of.shown - expected))
    met = at_least(within, away + of.guard) & of.exact
    missed = ~at_least(within, away - of.guard) & of.exact
    if bound.get("of") is None:
        state.narrow(where, low=expected - within, high=expected + within)
    state.find(where, usual(of.exact, met, missed))
