"""How probable it is that a limit is met, from what the instrument showed.

JCGM 106:2012, clause 7: the probability that the true value lies within the limits,
with nothing known of it but the reading. Normal: standard uncertainty u. Rectangular:
the true value lies anywhere within the half-width a, and nowhere else.
"""

import math
from collections.abc import Iterator
from typing import NamedTuple

from models.judging.accuracy import COVERAGE
from models.judging.measured import Measured
from models.judging.near import RELATIVE
from models.judging.notes.placing import Made
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.judging.wording import figure, plain, scale_for, tenths
from models.words import say as sentence

SOURCE = {
    "document": "JCGM 106",
    "edition": "2012",
    "table": "clause 7",
    "row": "",
    "provenance": "published",
    "note": "probability of conformity",
}
# Codes of the steps that compare with a limit from below, and from above.
LOW, HIGH = ("minimum", "earliest", "least"), ("maximum", "latest", "most")
NEARLY = 0.999  # beyond that, and below its complement, digits say too much


def make() -> Made:
    """Return the note; what it needs stands in the reading."""
    return Made({"say": "conformity"}, [SOURCE])


def normal(
    value: float, u: float, low: float | None = None, high: float | None = None
) -> float:
    """Return the probability that the true value lies from *low* to *high*.

    Normal distribution about *value* with standard uncertainty *u* > 0; a limit that
    is None is not there.
    """
    above = 0.0 if high is None else _beyond((high - value) / u)
    below = 0.0 if low is None else _beyond((value - low) / u)
    return max(0.0, 1.0 - above - below)


def rectangular(
    value: float, a: float, low: float | None = None, high: float | None = None
) -> float:
    """Return the same where the true value lies evenly within *a* > 0 of *value*."""
    bottom, top = value - a, value + a
    first = bottom if low is None else max(low, bottom)
    last = top if high is None else min(high, top)
    if (first, last) == (bottom, top):
        return 1.0
    return max(0.0, (last - first) / (2 * a))


def _beyond(z: float) -> float:
    """Return the share of a normal distribution that lies above *z*."""
    return 0.5 * math.erfc(z / math.sqrt(2.0))


class _Limit(NamedTuple):
    """A limit that was compared with U: the step's code, and where it is."""

    code: str
    value: float


def say(state: State, _note: Note) -> Iterator[str]:
    """Say the probability; nothing without U, or where no limit was compared."""
    measured = state.measured
    if measured is None or not (measured.exact and measured.expanded):
        return
    low, high = _tightest(state, measured)
    u = measured.expanded / COVERAGE
    greatest = abs(measured.shown)
    for limit in (low, high):
        if limit is not None:
            greatest = max(greatest, abs(limit.value))
    if (low is None and high is None) or u <= RELATIVE * greatest:
        return  # so exact that the comparison itself is all there is to say
    yield _sentence(measured, u, low, high)


def _tightest(state: State, measured: Measured) -> tuple[_Limit | None, _Limit | None]:
    """Return the tightest limits; none of nothing, which is always met."""
    low = high = None
    for step in state.steps:
        code, part = step.code, step.part
        if part is not None and "of" in part:
            continue
        if code in LOW and step.low is not None:
            counts = measured.signed or step.low > 0
            if counts and (low is None or step.low > low.value):
                low = _Limit(code, step.low)
        if code in HIGH and step.high is not None:
            tighter = high is None or step.high < high.value
            high = _Limit(code, step.high) if tighter else high
    return low, high


def _sentence(
    measured: Measured, u: float, low: _Limit | None, high: _Limit | None
) -> str:
    shown, a = measured.shown, u * math.sqrt(3.0)
    ends = (low and low.value, high and high.value)
    unit, over = scale_for(shown, measured.unit)
    value, u_figure = figure(shown / over), figure(u / over)
    terms, sums, names = [], [], []
    for limit, sign in ((low, 1), (high, -1)):
        if limit is None:
            continue
        end = figure(limit.value / over)
        z = figure(sign * (shown - limit.value) / u, 3)
        gap = f"{value} − {end}" if sign > 0 else f"{end} − {value}"
        terms.append(f"({gap}) / {u_figure} = {z}")
        sums.append(f"Φ({z})")
        names.append(sentence(f"limit.{limit.code}"))
    both = len(names) > 1
    inside = f"{', '.join(terms)}, {' + '.join(sums)}{' − 1' if both else ''}"
    return sentence(
        "conformity.both" if both else "conformity.one",
        limits=sentence("list.and", first=names[0], second=names[1])
        if both
        else names[0],
        u=u_figure + unit,
        inside=inside,
        normal=_percent(normal(shown, u, *ends)),
        value=value,
        a=figure(a / over) + unit,
        rectangular=_share(rectangular(shown, a, *ends)),
    )


def _percent(probability: float) -> str:
    """Return a probability for people: no certainty that the digits do not bear."""
    if probability > NEARLY:
        return sentence("percent.more", percent=tenths(100 * NEARLY))
    if probability < 1 - NEARLY:
        return sentence("percent.less", percent=tenths(100 * (1 - NEARLY)))
    return sentence("percent", percent=tenths(100 * probability))


def _share(share: float) -> str:
    """Return a share for people; all and nothing are said where they are so."""
    if share in (0.0, 1.0):
        return sentence("percent", percent=plain(100 * share))
    return _percent(share)
