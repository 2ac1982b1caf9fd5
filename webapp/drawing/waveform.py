"""A waveform record: analog channels as curves, status channels as bars, one time."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from models.judging.wording import figure, plain
from models.waveform.outline import AnalogOutline, Outline, StatusOutline
from webapp.drawing.fit import text_width
from webapp.drawing.scales import Scale, fit_scale, tick_words
from webapp.drawing.shapes import Drawing, Group, Item, Line, Polyline, Rect, Text

WIDTH = 704.0
LEFT, RIGHT, TOP, BOTTOM = 132.0, 12.0, 26.0, 40.0
ANALOG, STATUS = 72.0, 56.0  # heights of a strip; a name is large enough for a glove
BAR = 16.0
LONGEST_NAME = LEFT - 14


@dataclass(frozen=True, slots=True, kw_only=True)
class Marked:
    """What is measured, in seconds from the first sample; the channels by number."""

    start_s: float | None = None
    end_s: float | None = None
    analog: int = -1
    status: int = -1


def span(shown: Outline) -> Scale:
    """Return the scale of time: where a moment lies across the drawing."""
    return fit_scale(shown.from_s, shown.to_s, LEFT, WIDTH - RIGHT)


def waveform(
    shown: Outline,
    marked: Marked,
    *,
    start_way: Callable[[int], str],
    end_way: Callable[[int], str],
) -> Drawing:
    """Return the record drawn; the ways are where the name of a channel leads."""
    across = span(shown)
    height = TOP + ANALOG * len(shown.analog) + STATUS * len(shown.status) + BOTTOM
    floor = height - BOTTOM
    items: list[Item] = [*_measured(marked, across, floor), *_axis(across, floor)]
    top = TOP
    for channel in shown.analog:
        items += _analog(channel, across, top, marked, start_way(channel.place))
        top += ANALOG
    for state in shown.status:
        items += _status(state, across, top, marked, end_way(state.place))
        top += STATUS
    items += _marks(marked, across, floor)
    return Drawing(
        width=WIDTH,
        height=height,
        kind="waveform",
        title="The record, drawn",
        description=_describe(shown, marked),
        items=items,
    )


def _measured(marked: Marked, across: Scale, floor: float) -> Iterator[Item]:
    if marked.start_s is None or marked.end_s is None:
        return
    x, right = across.place(marked.start_s), across.place(marked.end_s)
    yield Rect(x, TOP, max(right - x, 0.5), floor - TOP, "band")


def _marks(marked: Marked, across: Scale, floor: float) -> Iterator[Item]:
    for at, word, side in (
        (marked.start_s, "start", "end"),
        (marked.end_s, "end", "start"),
    ):
        if at is None or not across.holds(at):
            continue
        x = across.place(at)
        yield Line(x, TOP - 8, x, floor, "limit-line")
        anchor = "end" if x > WIDTH - 40 else side
        gap = -4 if anchor == "end" else 4
        yield Text(x + gap, TOP - 10, word, "limit-figure", anchor)


def _axis(across: Scale, floor: float) -> Iterator[Item]:
    ticks = [one for one in across.ticks(7) if across.holds(one)]
    for at, said in zip(ticks, tick_words([t * 1000 for t in ticks]), strict=True):
        x = across.place(at)
        yield Line(x, TOP, x, floor, "grid")
        yield Text(x, floor + 15, said, "figure", "middle")
    yield Line(across.start, floor, across.end, floor, "axis")
    middle = (across.start + across.end) / 2
    yield Text(middle, floor + 32, "ms from the first sample", "label", "middle")


def _name(
    name: str, about: str, top: float, height: float, *, chosen: bool, to: str, why: str
) -> Group:
    """Return a channel's name, which chooses it."""
    ground = "cell-chosen" if chosen else "cell"
    return Group(
        items=(
            Rect(2, top + 2, LEFT - 10, height - 4, ground),
            Text(9, top + height / 2 - 3, _cut(name), "label-strong"),
            Text(9, top + height / 2 + 13, _cut(about), "figure"),
        ),
        title=f"{name}, {about}: {why}",
        href=to,
    )


def _cut(text: str) -> str:
    shown = text
    while text_width(shown, "label-strong") > LONGEST_NAME and len(shown) > 1:
        shown = shown.removesuffix("…")[:-1] + "…"
    return shown


def _analog(
    channel: AnalogOutline, across: Scale, top: float, marked: Marked, to: str
) -> Iterator[Item]:
    peak = channel.peak or 1.0
    up = fit_scale(-peak, peak, top + ANALOG - 6, top + 6)
    points = tuple((across.place(t), up.place(value)) for t, value in channel.points)
    middle = up.place(0.0)
    yield Line(across.start, middle, across.end, middle, "grid-strong")
    yield Polyline(points, "curve")
    yield _name(
        channel.name or f"analog {channel.place + 1}",
        f"peak {figure(channel.peak)} {channel.unit}".strip(),
        top,
        ANALOG,
        chosen=channel.place == marked.analog,
        to=to,
        why="start at its onset",
    )


def _status(
    channel: StatusOutline, across: Scale, top: float, marked: Marked, to: str
) -> Iterator[Item]:
    low = top + STATUS - 8
    yield Line(across.start, low, across.end, low, "scale")
    for begin, end in channel.spells:
        x = across.place(begin)
        width = max(across.place(end) - x, 0.6)
        yield Rect(x, low - BAR, width, BAR, "symbol-solid")
    yield _name(
        channel.name or f"status {channel.place + 1}",
        f"normal {channel.normal}",
        top,
        STATUS,
        chosen=channel.place == marked.status,
        to=to,
        why="end at its change",
    )


def _describe(shown: Outline, marked: Marked) -> str:
    names = [one.name for one in shown.analog]
    names += [one.name for one in shown.status]
    said = (
        f"From {plain(round(shown.from_s * 1000, 3))} to "
        f"{plain(round(shown.to_s * 1000, 3))} ms: {', '.join(names)}."
    )
    if marked.start_s is not None and marked.end_s is not None:
        said += (
            f" The start lies at {plain(round(marked.start_s * 1000, 4))} ms, the end "
            f"at {plain(round(marked.end_s * 1000, 4))} ms."
        )
    if shown.left_out:
        said += f" {shown.left_out} channels are not drawn."
    return said
