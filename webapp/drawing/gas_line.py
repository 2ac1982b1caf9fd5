"""The line of constant density: pressure of a sealed tank over its temperature."""

from collections.abc import Sequence

from models.judging.gas import Carried
from models.judging.wording import figure, plain
from webapp.drawing.fit import text_width
from webapp.drawing.scales import Scale, fit_scale, tick_words
from webapp.drawing.shapes import Circle, Drawing, Item, Line, Polyline, Text

WIDTH, HEIGHT = 480.0, 250.0
LEFT, RIGHT, TOP, BOTTOM = 56.0, 16.0, 26.0, 44.0
ROOM = 0.08  # of the span, kept free above and below


def gas_line(carried: Carried, line: Sequence[tuple[float, float]]) -> Drawing:
    """Return *line* as (degC, kPa), with the reading and where it was carried to."""
    across, up = _scales([*line, *_marked(carried)])
    reading, to = _marked(carried)
    items: list[Item] = [
        *_grid(across, up),
        Polyline(tuple((across.place(t), up.place(p)) for t, p in line), "series-1"),
        *_mark(reading, "read", across, up, above=False),
        *_mark(to, f"at {plain(carried.to_c)} °C", across, up, above=True),
    ]
    return Drawing(
        width=WIDTH,
        height=HEIGHT,
        kind="gas-line",
        title="Line of constant density",
        description=f"{figure(carried.pressure_kpa)} kPa absolute at "
        f"{plain(carried.at_c)} °C is {figure(carried.carried_kpa)} kPa absolute at "
        f"{plain(carried.to_c)} °C, at {figure(carried.density)} kg/m³.",
        items=items,
    )


def _marked(carried: Carried) -> list[tuple[float, float]]:
    return [
        (carried.at_c, carried.pressure_kpa),
        (carried.to_c, carried.carried_kpa),
    ]


def _scales(points: Sequence[tuple[float, float]]) -> tuple[Scale, Scale]:
    pressures = [p for _, p in points]
    temperatures = [t for t, _ in points]
    room = ROOM * (max(pressures) - min(pressures))
    across = fit_scale(min(temperatures), max(temperatures), LEFT, WIDTH - RIGHT)
    up = fit_scale(min(pressures) - room, max(pressures) + room, HEIGHT - BOTTOM, TOP)
    return across, up


def _grid(across: Scale, up: Scale) -> list[Item]:
    items: list[Item] = []
    for value, said in zip(up.ticks(5), tick_words(up.ticks(5)), strict=True):
        y = up.place(value)
        items += [
            Line(across.start, y, across.end, y, "grid"),
            Text(across.start - 6, y + 3, said, "figure", "end"),
        ]
    for value, said in zip(across.ticks(9), tick_words(across.ticks(9)), strict=True):
        x = across.place(value)
        items += [
            Line(x, up.start, x, up.start + 4, "tick"),
            Text(x, up.start + 15, said.replace("-", "−"), "figure", "middle"),
        ]
    corner = ((across.start, up.end), (across.start, up.start), (across.end, up.start))
    middle = (across.start + across.end) / 2
    return [
        *items,
        Polyline(corner, "axis"),
        Text(8, 14, "kPa absolute", "label"),
        Text(middle, up.start + 33, "temperature of the gas, °C", "label", "middle"),
    ]


def _mark(
    point: tuple[float, float], words: str, across: Scale, up: Scale, *, above: bool
) -> list[Item]:
    """Return a mark with its words: the line rises, so above left and below right."""
    x, y = across.place(point[0]), up.place(point[1])
    return [
        Circle(x, y, 4.0, "symbol-solid"),
        _words_above(x, y, words, across)
        if above
        else _words_below(x, y, words, across),
    ]


def _words_above(x: float, y: float, words: str, across: Scale) -> Text:
    end = max(x - 6, across.start + text_width(words, "label") + 4)
    return Text(end, y - 8, words, "label", "end")


def _words_below(x: float, y: float, words: str, across: Scale) -> Text:
    start = min(x + 6, across.end - text_width(words, "label"))
    return Text(start, y + 17, words, "label")
