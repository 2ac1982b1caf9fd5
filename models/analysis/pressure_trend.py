"""A vacuum interrupter's residual pressure over the rounds, and the time left."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from statistics import NormalDist, fmean

from models.analysis.student import coverage_factor

# Two-sided: one time in twenty the limit comes before the earliest time said.
LEVEL = 0.90
TIMES_OBSERVED = 3.0  # a line is carried no further than so many spans: our decision
DAYS_A_YEAR = 365.25

ONE_ROUND = "A trend takes readings of two rounds or more."
ONE_DAY = "All readings are of one day: there is no trend yet."
REACHED = "The latest reading is at the limit or above it: there is no time left."
FLAT = "The pressure does not rise: no time to the limit is given."


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressure:
    """One round's residual pressure in Pa; *u_pa* its expanded uncertainty U."""

    day: date
    pa: float
    u_pa: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """log10 of the pressure against time in years, by least squares.

    `half` is the half-width of the band of LEVEL about the line, before the
    factor of the place on it; None with two rounds.
    """

    first: date
    last: date
    rounds: int
    mean_years: float  # since the first day
    mean_log: float
    sum_squares: float  # of the years about their mean
    slope: float  # decades a year
    slope_u: float | None  # standard uncertainty of the slope
    half: float | None  # decades

    def at(self, years: float) -> float:
        """Return the pressure in Pa, *years* after the last reading."""
        return float(10 ** (self.mean_log + self.slope * self._from_mean(years)))

    def band(self, years: float) -> tuple[float, float] | None:
        """Return lowest and highest pressure in Pa; None with two rounds."""
        if self.half is None:
            return None
        x = self._from_mean(years)
        wide = self.half * math.sqrt(1 / self.rounds + x * x / self.sum_squares)
        middle = self.mean_log + self.slope * x
        return float(10 ** (middle - wide)), float(10 ** (middle + wide))

    @property
    def observed(self) -> float:
        """Years from the first reading to the last."""
        return years_between(self.first, self.last)

    @property
    def horizon(self) -> float:
        """Years after the last reading up to which the line is carried."""
        return TIMES_OBSERVED * self.observed

    def _from_mean(self, years: float) -> float:
        return self.observed + years - self.mean_years


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeLeft:
    """Years from the last reading to the limit.

    `about` None: beyond the horizon. `earliest` and `latest`: the range of LEVEL,
    None where it has no such end before the horizon, or with two rounds.
    `constant_leak`: by the usual arithmetic, (limit - P2) over (P2 - P1) / years
    between first and last reading (common practice); None beyond the horizon.
    """

    about: float | None
    earliest: float | None
    latest: float | None
    constant_leak: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureTrend:
    """The line, and the time left to the limit or the reason why none is given."""

    line: Line | None
    left: TimeLeft | None
    reason: str


def pressure_trend(
    seen: Sequence[Pressure], *, limit_pa: float | None, floor_pa: float
) -> PressureTrend:
    """Return the trend of exact readings above zero.

    A rise by a constant factor a year is assumed: a straight line of log10 P
    against time, each round counting alike. Below *floor_pa* getter effects hide
    a leak, so no time is given there.
    """
    used = sorted((p for p in seen if p.pa > 0), key=lambda p: p.day)
    if len(used) < 2:
        return PressureTrend(line=None, left=None, reason=ONE_ROUND)
    if used[0].day == used[-1].day:
        return PressureTrend(line=None, left=None, reason=ONE_DAY)
    line = fit(used)
    reason = _why_no_time(used, line, limit_pa, floor_pa)
    if reason or limit_pa is None:
        return PressureTrend(line=line, left=None, reason=reason)
    return PressureTrend(line=line, left=_time_left(used, line, limit_pa), reason="")


def fit(used: Sequence[Pressure]) -> Line:
    """Return the line of least squares through two readings or more, by day.

    Source: straight-line least squares, as in any text; slope b = Sxy / Sxx,
    u(b) = s / sqrt(Sxx), s from n - 2 degrees of freedom.
    """
    first, count = used[0].day, len(used)
    years = [years_between(first, p.day) for p in used]
    logs = [math.log10(p.pa) for p in used]
    mean_x, mean_y = fmean(years), fmean(logs)
    sum_squares = math.fsum((x - mean_x) ** 2 for x in years)
    products = ((x - mean_x) * (y - mean_y) for x, y in zip(years, logs, strict=True))
    slope = math.fsum(products) / sum_squares
    slope_u = half = None
    if count > 2:
        rest = math.fsum(
            (y - mean_y - slope * (x - mean_x)) ** 2
            for x, y in zip(years, logs, strict=True)
        )
        spread = math.sqrt(rest / (count - 2))
        slope_u = spread / math.sqrt(sum_squares)
        half = _half(spread, count - 2, used)
    return Line(
        first=first,
        last=used[-1].day,
        rounds=count,
        mean_years=mean_x,
        mean_log=mean_y,
        sum_squares=sum_squares,
        slope=slope,
        slope_u=slope_u,
        half=half,
    )


def years_between(first: date, last: date) -> float:
    """Return the years from one day to another."""
    return (last - first).days / DAYS_A_YEAR


def _half(spread: float, freedom: int, used: Sequence[Pressure]) -> float:
    """Return the band's half-width: from the scatter, or from U where that is more.

    Few rounds can lie on a line by chance; they are not better known than the
    instrument allows.
    """
    stated = [(p.u_pa or 0.0) / 2 / p.pa / math.log(10) for p in used]
    known = math.sqrt(fmean(u * u for u in stated))
    normal = NormalDist().inv_cdf((1 + LEVEL) / 2)
    return max(coverage_factor(LEVEL, freedom) * spread, normal * known)


def _why_no_time(
    used: Sequence[Pressure], line: Line, limit_pa: float | None, floor_pa: float
) -> str:
    if limit_pa is None:
        return "No limit is known for this pressure."
    if used[-1].pa >= limit_pa:
        return REACHED
    if line.slope <= 0:
        return FLAT
    if used[-1].pa < floor_pa:
        return (
            f"Below about {floor_pa:g} Pa getter effects hide a leak: no time to the "
            "limit is given."
        )
    return ""


def _time_left(used: Sequence[Pressure], line: Line, limit_pa: float) -> TimeLeft:
    above = math.log10(limit_pa) - line.mean_log
    now = line.observed - line.mean_years
    earliest = latest = None
    if line.half is not None:
        first, last = _range(line, line.half, above)
        earliest, latest = _shown(first - now, line), _shown(last - now, line)
    return TimeLeft(
        about=_shown(above / line.slope - now, line),
        earliest=earliest,
        latest=latest,
        constant_leak=_constant_leak(used, line, limit_pa),
    )


def _range(line: Line, half: float, above: float) -> tuple[float, float]:
    """Return when the band's upper and lower edge reach the limit, from the mean.

    (above - b x)^2 = half^2 (1/n + x^2/Sxx), solved for x (Fieller's theorem).
    Where the slope is not told from zero the lower edge never comes there, and
    where the upper edge lies above the limit throughout, it may be there already.
    """
    square = half * half
    a = line.slope**2 - square / line.sum_squares
    c = above * above - square / line.rounds
    root = (line.slope * above) ** 2 - a * c
    both = line.slope * above + math.sqrt(max(0.0, root))
    earliest = c / both if root >= 0 and both > 0 else -math.inf
    return earliest, both / a if a > 0 else math.inf


def _shown(years: float, line: Line) -> float | None:
    """Return the years from now on; None beyond the horizon."""
    return max(0.0, years) if years <= line.horizon else None


def _constant_leak(
    used: Sequence[Pressure], line: Line, limit_pa: float
) -> float | None:
    rise = (used[-1].pa - used[0].pa) / line.observed  # Pa a year
    return _shown((limit_pa - used[-1].pa) / rise, line) if rise > 0 else None
