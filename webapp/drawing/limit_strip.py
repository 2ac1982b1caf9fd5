"""The limit strip: a short number line from a judgement."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.judging import Interval, parse_value
from models.judging.quantities import said_unit
from models.judging.wording import figure, scale_for
from webapp.drawing.figures import number, short_amount, shown_amount, unit_of
from webapp.drawing.fit import text_width
from webapp.drawing.marks import lozenge
from webapp.drawing.scales import Scale, fit_scale, tick_words
from webapp.drawing.shapes import Drawing, Item, Line, Polyline, Rect, Text

LOGARITHMIC = ("MOhm", "Pa")  # read over decades
SHARED_UP_TO = 4.0  # spans: beyond it the strips of a card would be too fine to read
WIDTH, HEIGHT = 240.0, 40.0
SIDE, LINE_Y = 10.0, 23.0
ARROW = 17.0


@dataclass(frozen=True, slots=True)
class _Seen:
    """A corrected reading with its limits, all in the judgement's corrected unit."""

    value: float
    low: float | None
    high: float | None
    u: float
    unit: str
    verdict: str
    over: bool
    under: bool

    @property
    def limits(self) -> list[float]:
        return [v for v in (self.low, self.high) if v is not None]


def limit_strip(
    judgement: Mapping[str, Any],
    text: str = "",
    *,
    among: Iterable[Mapping[str, Any]] = (),
    width: float = WIDTH,
    height: float = HEIGHT,
) -> Drawing | None:
    """Return the strip, or None where there is no number or no limit to draw.

    *text* is the reading as typed: `>200` gets an arrow instead of a whisker. *among*
    are the judgements of the same card, whose strips share one scale where it can be
    read.
    """
    seen = _read(judgement, text)
    if seen is None or not seen.limits:
        return None
    scale = _scale(seen, [one for each in among if (one := _read(each, ""))], width)
    if scale is None:
        return None
    return Drawing(
        width=width,
        height=height,
        kind="limit-strip",
        title=f"{_said(seen)}, {seen.verdict}",
        description=_describe(seen),
        items=[
            *_permitted(seen, scale),
            *_ticks(seen, scale),
            *_limits(seen, scale),
            *_mark(seen, scale),
        ],
    )


def _read(judgement: Mapping[str, Any], text: str) -> _Seen | None:
    value, unit = number(judgement, "corrected"), unit_of(judgement)
    if value is None or not unit:
        return None
    typed = parse_value(text) if text else None
    interval = typed if isinstance(typed, Interval) else Interval(value, value)
    return _Seen(
        value=value,
        low=number(judgement, "limit_low"),
        high=number(judgement, "limit_high"),
        u=number(judgement, "uncertainty") or 0.0,
        unit=unit,
        verdict=judgement["verdict"],
        over=interval.high is None,
        under=interval.low is None,
    )


def _scale(seen: _Seen, others: Sequence[_Seen], width: float) -> Scale | None:
    own = _span(seen)
    if own is None:
        return None
    low, high = _shared(own, seen, others)
    logarithmic = seen.unit in LOGARITHMIC
    return fit_scale(low, high, SIDE, width - SIDE, logarithmic=logarithmic)


def _shared(
    own: tuple[float, float], seen: _Seen, others: Sequence[_Seen]
) -> tuple[float, float]:
    """Return the ends that hold the others of the same unit too, or else *own*."""
    like = (one for one in others if one.unit == seen.unit and one.limits)
    spans = [own, *(span for one in like if (span := _span(one)))]
    low, high = min(low for low, _ in spans), max(high for _, high in spans)
    narrowest = min(high - low for low, high in spans)
    if seen.unit in LOGARITHMIC or high - low <= SHARED_UP_TO * narrowest:
        return low, high
    return own


def _span(seen: _Seen) -> tuple[float, float] | None:
    """Return the ends of a scale for this reading alone."""
    values = [seen.value, *seen.limits]
    low, high = min(values), max(values)
    if seen.unit in LOGARITHMIC:
        return (low / 6, high * 6) if low > 0 else None
    low, high = min(low, seen.value - seen.u), max(high, seen.value + seen.u)
    if seen.low is None or seen.high is None:
        low = min(0.0, low)
    room = (high - low) * 0.22 or abs(high) * 0.1 or 1.0
    below = low - room if low < 0 else max(0.0, low - (room if low > 0 else 0.0))
    return below, high + room


def _permitted(seen: _Seen, scale: Scale) -> list[Item]:
    x1 = scale.start if seen.low is None else scale.place(seen.low)
    x2 = scale.end if seen.high is None else scale.place(seen.high)
    return [
        Rect(x1, LINE_Y - 5, max(0.0, x2 - x1), 10, "permitted"),
        Line(scale.start, LINE_Y, scale.end, LINE_Y, "scale"),
    ]


def _ticks(seen: _Seen, scale: Scale) -> list[Item]:
    """Return ticks with figures; the unit stands after the last of them."""
    words, over = scale_for(seen.limits[0], seen.unit)
    shown = fit_scale(
        scale.low / over,
        scale.high / over,
        scale.start,
        scale.end,
        logarithmic=scale.logarithmic,
    )
    values = shown.ticks(3)
    items: list[Item] = []
    free_from = 0.0
    for n, (value, said) in enumerate(zip(values, tick_words(values), strict=True)):
        label = f"{said}{words}" if n == len(values) - 1 else said
        x, half = shown.place(value), text_width(label, "figure") / 2
        items.append(Line(x, LINE_Y - 3, x, LINE_Y + 3, "tick"))
        said_already = any(abs(x - scale.place(v)) < 1 for v in seen.limits)
        if said_already or x - half < free_from or x + half > scale.end + SIDE:
            continue
        free_from = x + half + 3
        items.append(Text(x, LINE_Y + 16, label, "figure", "middle"))
    return items


def _limits(seen: _Seen, scale: Scale) -> list[Item]:
    """Return the heavy ticks, each with its value, kept inside the drawing."""
    items: list[Item] = []
    two = seen.low is not None and seen.high is not None
    for limit, is_low in ((seen.low, True), (seen.high, False)):
        if limit is None:
            continue
        x, said = scale.place(limit), short_amount(limit, seen.unit)
        wide = text_width(said, "limit-figure")
        left = x - 3 - wide if two and is_low else x + 3
        left = max(1.0, min(left, scale.end + SIDE - wide))
        items += [
            Line(x, LINE_Y - 9, x, LINE_Y + 9, "limit"),
            Text(left, LINE_Y - 10, said, "limit-figure"),
        ]
    return items


def _mark(seen: _Seen, scale: Scale) -> list[Item]:
    x, line = scale.place(seen.value), f"{seen.verdict}-line"
    items: list[Item] = []
    if seen.over or seen.under:
        way = 1 if seen.over else -1
        tip = x + ARROW * way
        items += [
            Line(x, LINE_Y, tip, LINE_Y, line),
            Polyline(
                (
                    (tip - 4 * way, LINE_Y - 4),
                    (tip, LINE_Y),
                    (tip - 4 * way, LINE_Y + 4),
                ),
                line,
            ),
        ]
    elif seen.u:
        x1 = scale.place(max(seen.value - seen.u, scale.low))
        x2 = scale.place(seen.value + seen.u)
        items.append(Line(x1, LINE_Y, x2, LINE_Y, line))
        items += [Line(e, LINE_Y - 4, e, LINE_Y + 4, line) for e in (x1, x2)]
    return [*items, lozenge(x, LINE_Y, 6.5, f"{seen.verdict}-mark")]


def _said(seen: _Seen) -> str:
    sign = "over " if seen.over else "under " if seen.under else ""
    return f"{sign}{shown_amount(seen.value, seen.unit)}"


def _describe(seen: _Seen) -> str:
    parts = []
    if seen.low is not None:
        parts.append(f"at least {short_amount(seen.low, seen.unit)} is wanted")
    if seen.high is not None:
        parts.append(f"at most {short_amount(seen.high, seen.unit)} is wanted")
    if seen.u:
        words, over = scale_for(seen.value, seen.unit)
        parts.append(f"U is {figure(seen.u / over, 2)}{words or said_unit(seen.unit)}")
    return f"Number line: {', '.join(parts)}."
