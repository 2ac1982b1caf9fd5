"""Moisture of gases in columns: the derived word `vapour`."""

import numpy as np

from models.judging.batch.codes import Numbers
from models.judging.batch.gates import Part
from models.judging.batch.measured import Measured
from models.judging.batch.state import State
from models.judging.moisture import FROST_POINT, PA_PER_KPA, PPM, PPMV


def vapour(state: State, part: Part, x: Measured) -> Measured:
    """Return moistures in another form, or at another pressure; NaN: not known."""
    from_share = part["from"] == PPMV
    at = state.value("nowhere" if from_share else part.get("at", "nowhere"))
    shown = _value(part, x.shown, at.shown)
    possible = np.isfinite(shown)
    signed = part["to"] == FROST_POINT
    nothing = -np.inf if signed else 0.0

    def work(end: Numbers) -> Numbers:
        inside = _value(part, end, at.shown)
        inside = np.where(np.isnan(inside), nothing, inside)
        inside = np.where(np.isinf(end), np.where(end < 0, nothing, end), inside)
        return np.where(possible, np.where(end == x.shown, shown, inside), np.nan)

    frost = part["from"] == FROST_POINT
    by = _steepness(part, x.shown) if frost else 1 / x.shown
    of_pressure = np.nan_to_num(at.relative, nan=0.0)
    relative = np.hypot(by * x.guard, of_pressure)
    expanded = relative / _steepness(part, shown) if signed else relative * shown
    known = possible & ~(np.isnan(x.expanded) & np.isnan(at.relative))
    return Measured(
        work(x.low),
        work(x.high),
        np.where(possible, shown, np.nan),
        expanded=np.where(known, expanded, np.nan),
        signed=signed,
    )


def _value(part: Part, x: Numbers, at_kpa: Numbers) -> Numbers:
    """Return what *x* comes to; NaN where it cannot be worked out."""
    if part["from"] == PPMV:
        share = x
    else:
        there = _over_ice_pa(part, x) if part["from"] == FROST_POINT else x
        share = PPM * there / np.where(at_kpa > 0, at_kpa * PA_PER_KPA, np.nan)
    share = np.where(share > 0, share, np.nan)
    if part["to"] == PPMV:
        return np.asarray(share)
    if part.get("to_kpa") is None:
        return np.full(np.shape(share), np.nan)
    here = share / PPM * part["to_kpa"] * PA_PER_KPA
    if part["to"] != FROST_POINT:
        return np.asarray(here)
    power = np.log(here / part["e0_pa"])
    power = np.where(power < part["a"], power, np.nan)
    return np.asarray(part["b_c"] * power / (part["a"] - power))


def _over_ice_pa(part: Part, celsius: Numbers) -> Numbers:
    inside = (celsius >= part["from_c"]) & (celsius <= part["to_c"])
    held = np.where(inside, celsius, np.nan)
    power = part["a"] * held / (part["b_c"] + held)
    return np.asarray(part["e0_pa"] * np.exp(power))


def _steepness(part: Part, celsius: Numbers) -> Numbers:
    return np.asarray(part["a"] * part["b_c"] / (part["b_c"] + celsius) ** 2)
