"""How probable it is that a limit is met, from what the instrument showed.

JCGM 106:2012, clause 7: the probability that the true value lies within the limits,
with nothing known of it but the reading. Normal: standard uncertainty u. Rectangular:
the true value lies anywhere within the half-width a, and nowhere else.
"""

import math
from collections.abc import Iterator, Sequence

from models.judging.accuracy import COVERAGE
from models.judging.near import RELATIVE
from models.judging.notes.placing import Made
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.judging.wording import figure, plain, scale_for, tenths

SOURCE = {
    "document": "JCGM 106",
    "edition": "2012",
    "table": "clause 7",
    "row": "",
    "provenance": "published",
    "note": "probability of conformity",
}
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


def say(state: State, _note: Note) -> Iterator[str]:
    """Say the probability; nothing without U, or where no limit was compared."""
    low, high, expanded = state.guarded_low, state.guarded_high, state.expanded
    limits = [one for one in (low, high) if one is not None]
    if not (state.exact and expanded and limits):
        return
    u = expanded / COVERAGE
    if u <= RELATIVE * max(state.shown, *(limit for limit, _ in limits)):
        return  # so exact that the comparison itself is all there is to say
    a = u * math.sqrt(3.0)
    ends = (low and low[0], high and high[0])
    p, q = normal(state.shown, u, *ends), rectangular(state.shown, a, *ends)
    unit, over = scale_for(state.shown, state.base)
    shown = figure(state.shown / over)
    yield (
        f"Probability that {_names(limits)} met (JCGM 106:2012, clause 7): u = U / 2 = "
        f"{figure(u / over)}{unit}, {_inside(state, u)}: {_percent(p)} if normal; "
        f"of {shown} ± {figure(a / over)}{unit} (u × √3) {_share(q)} if rectangular."
    )


def _names(limits: Sequence[tuple[float, str]]) -> str:
    names = [name for _, name in limits]
    return f"{names[0]} is" if len(names) == 1 else f"{' and '.join(names)} are"


def _inside(state: State, u: float) -> str:
    """Return how far inside each limit the value lies, in u, and what is added up."""
    _, over = scale_for(state.shown, state.base)
    x, said_u = figure(state.shown / over), figure(u / over)
    terms, sums = [], []
    for one, sign in ((state.guarded_low, 1), (state.guarded_high, -1)):
        if one is None:
            continue
        limit = figure(one[0] / over)
        z = figure(sign * (state.shown - one[0]) / u, 3)
        pair = (x, limit) if sign > 0 else (limit, x)
        terms.append(f"({pair[0]} − {pair[1]}) / {said_u} = {z}")
        sums.append(f"Φ({z})")
    both = " − 1" if len(sums) > 1 else ""
    return f"{', '.join(terms)}, {' + '.join(sums)}{both}"


def _percent(probability: float) -> str:
    """Return a probability for people: no certainty that the digits do not bear."""
    if probability > NEARLY:
        return f"more than {tenths(100 * NEARLY)} %"
    if probability < 1 - NEARLY:
        return f"less than {tenths(100 * (1 - NEARLY))} %"
    return f"{tenths(100 * probability)} %"


def _share(share: float) -> str:
    """Return a share for people; all and nothing are said where they are so."""
    return f"{plain(100 * share)} %" if share in (0.0, 1.0) else _percent(share)
