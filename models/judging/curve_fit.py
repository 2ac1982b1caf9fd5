"""Fit the pickup and the time dial to several timings on one curve."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from models.judging.curves import operating_time, sensitivity
from models.judging.near import at_least
from models.words import say

LEAST = 3  # timings: two would fit any two settings without a residual
STEPS, HALVINGS = 100, 60
SETTLED = 1e-9  # step of the logarithm of the pickup
FURTHEST = math.log(5.0)  # of the pickup from the setting: more is no drift of one
ROUNDED = 1e-9  # of the sum of squares: no worse than that is not worse
NEAREST = 1e-6  # of a timing to the pickup: nearer the curve has no end
FLAT = 1e-9  # squares of the sensitivities: below it every pickup fits
# Student's factor for 95 % by degrees of freedom. Source: JCGM 100:2008 (GUM),
# Table G.2, column 95 %.
STUDENT = (12.71, 4.30, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23)
STUDENT_BEYOND = 2.20  # that of 11: on the safe side for more


class Timing(NamedTuple):
    """An operating time in seconds at a multiple of the pickup as set."""

    multiple: float
    seconds: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CurveFit:
    """What the timings say of the settings.

    *pickup* is in times the pickup as set, *dial* on the curve's own scale, each with
    its standard uncertainty from the scatter of the timings; *residuals* are measured
    over fitted time, less one, in the order of *timings*.
    """

    pickup: float
    pickup_u: float
    dial: float
    dial_u: float
    timings: tuple[Timing, ...]
    residuals: tuple[float, ...]

    @property
    def student(self) -> float:
        """Return what a standard uncertainty is multiplied by for 95 %."""
        freedom = len(self.timings) - 2
        return STUDENT[freedom - 1] if freedom <= len(STUDENT) else STUDENT_BEYOND


@dataclass(frozen=True, slots=True)
class NoFit:
    """Why the timings fit nothing."""

    reason: str


def sloping(
    bound: Mapping[str, Any], timed: Sequence[tuple[float, float | None]]
) -> list[Timing]:
    """Return the timings on the sloping part of an operating-time bound's curve.

    *timed* are (applied current in A, time in s, or None where it is no number).
    Neither below the first timing point nor where a ceiling or a minimum time holds
    does a time say anything of pickup and dial.
    """
    ceiling = bound.get("ceiling_multiple")
    least = bound.get("minimum_time_s") or 0.0
    found = []
    for applied_a, seconds in timed:
        multiple = applied_a / bound["pickup_a"]
        held = ceiling is not None and at_least(multiple, ceiling)
        if seconds is None or held or not at_least(multiple, bound["start_multiple"]):
            continue
        if operating_time(bound["curve"], bound["time_dial"], multiple) > least:
            found.append(Timing(multiple, seconds))
    return found


def fit_curve(curve: Mapping[str, Any], timings: Sequence[Timing]) -> CurveFit | NoFit:
    """Return the pickup and dial that the *timings* fit best, or why none do.

    Gauss-Newton on the logarithm of time, so that each timing counts by its relative
    error: ln t = ln dial + ln f(M / r), f the curve at dial 1 and r the pickup over the
    pickup as set. The dial that is best for an r is known at once (it is a mean), so
    that only r is searched for. Uncertainties as of linear least squares, from the
    scatter over n - 2 degrees of freedom (JCGM 100:2008, H.3, for a line).
    """
    reason = _unfit(curve, timings)
    if reason is not None:
        return NoFit(reason)
    log_r = 0.0
    misfit = _Misfit.at(curve, timings, log_r)
    for _ in range(STEPS):
        if misfit.leverage < FLAT:
            return NoFit(say("fit.alike"))
        step = misfit.step()
        if abs(step) < SETTLED:
            return _fitted(timings, log_r, misfit)
        log_r, misfit = _forward(curve, timings, log_r, misfit)
    return NoFit(say("fit.not_along"))


class _Misfit(NamedTuple):
    """How far the timings are from the curve at one pickup, its dial the best one."""

    log_dial: float
    residuals: list[float]  # of ln t
    slopes: list[float]  # d ln t / d ln pickup, less their mean
    mean_slope: float
    leverage: float  # sum of the squares of the slopes
    squares: float  # sum of the squares of the residuals

    @classmethod
    def at(
        cls, curve: Mapping[str, Any], timings: Sequence[Timing], log_r: float
    ) -> "_Misfit":
        seen = [timing.multiple / math.exp(log_r) for timing in timings]
        logs = [
            math.log(timing.seconds / operating_time(curve, 1.0, multiple))
            for timing, multiple in zip(timings, seen, strict=True)
        ]
        log_dial = math.fsum(logs) / len(logs)
        slopes = [sensitivity(curve, multiple) for multiple in seen]
        mean_slope = math.fsum(slopes) / len(slopes)
        residuals = [log - log_dial for log in logs]
        centred = [slope - mean_slope for slope in slopes]
        return cls(
            log_dial,
            residuals,
            centred,
            mean_slope,
            math.fsum(slope * slope for slope in centred),
            math.fsum(residual * residual for residual in residuals),
        )

    def step(self) -> float:
        """Return the Gauss-Newton step of ln r."""
        pairs = zip(self.slopes, self.residuals, strict=True)
        return math.fsum(slope * rest for slope, rest in pairs) / self.leverage


def _unfit(curve: Mapping[str, Any], timings: Sequence[Timing]) -> str | None:
    if curve["form"] == "definite":
        return say("fit.definite")
    if any(not timing.seconds > 0 for timing in timings):
        return say("fit.no_time")
    if any(not timing.multiple > 1 for timing in timings):
        return say("fit.below_pickup")
    distinct: list[float] = []
    for timing in sorted(timings):
        if not distinct or not at_least(distinct[-1], timing.multiple):
            distinct.append(timing.multiple)
    if len(distinct) < LEAST:
        return say("fit.too_few", wanted=str(LEAST), found=str(len(distinct)))
    return None


def _forward(
    curve: Mapping[str, Any],
    timings: Sequence[Timing],
    log_r: float,
    misfit: _Misfit,
) -> tuple[float, _Misfit]:
    """Return ln r after a step, and the misfit there.

    Halved until every timing stays above pickup and the fit gets no worse.
    """
    step = misfit.step()
    lowest = min(timing.multiple for timing in timings)
    for _ in range(HALVINGS):
        there = log_r + step
        if abs(there) < FURTHEST and lowest > math.exp(there) * (1.0 + NEAREST):
            better = _Misfit.at(curve, timings, there)
            if better.squares <= misfit.squares * (1.0 + ROUNDED):
                return there, better
        step /= 2
    return log_r, misfit


def _fitted(timings: Sequence[Timing], log_r: float, misfit: _Misfit) -> CurveFit:
    count = len(timings)
    variance = misfit.squares / (count - 2)
    pickup, dial = math.exp(log_r), math.exp(misfit.log_dial)
    over_all = 1.0 / count + misfit.mean_slope**2 / misfit.leverage
    return CurveFit(
        pickup=pickup,
        pickup_u=pickup * math.sqrt(variance / misfit.leverage),
        dial=dial,
        dial_u=dial * math.sqrt(variance * over_all),
        timings=tuple(timings),
        residuals=tuple(math.expm1(residual) for residual in misfit.residuals),
    )
