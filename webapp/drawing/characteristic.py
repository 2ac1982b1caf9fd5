"""A characteristic of straight lines with its tolerance, and what was read on it."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.judging.quantities import said_unit
from models.judging.wording import figure, plain
from webapp.drawing.figures import number, numbers
from webapp.drawing.marks import lozenge
from webapp.drawing.scales import Scale, fit_scale
from webapp.drawing.seen import OnCard
from webapp.drawing.shapes import Drawing, Item, Line, Polyline, Text

WIDTH, HEIGHT = 420.0, 240.0
LEFT, RIGHT, TOP, BOTTOM = 46.0, 16.0, 24.0, 40.0
ROOM = 1.08  # beyond what is drawn
LAST = 1.6  # of the last corner but one: the last may lie far away
HALF = 6.0  # of a mark

Bound = Mapping[str, Any]
Corners = Sequence[Sequence[float]]
Placed = tuple[OnCard, float, float]


def characteristic(
    rule: Mapping[str, Any],
    read: Sequence[OnCard],
    *,
    title: str = "Characteristic",
    width: float = WIDTH,
    height: float = HEIGHT,
) -> Drawing | None:
    """Return the lines that the readings of *rule* lie on; None of any other rule."""
    bound = _bound(rule)
    if bound is None:
        return None
    shown = list(_placed(bound, read))
    corners = _corners(bound["expected"]["points"], [x for _, x, _ in shown])
    band = _band(bound, corners)
    most_x = max([x for x, _, _ in band] + [x for _, x, _ in shown])
    most_y = max([high for _, _, high in band] + [y for _, _, y in shown])
    across = fit_scale(0.0, most_x * ROOM, LEFT, width - RIGHT)
    up = fit_scale(0.0, most_y * ROOM, height - BOTTOM, TOP)
    edge = [(x, low) for x, low, _ in band] + [(x, high) for x, _, high in band[::-1]]
    return Drawing(
        width=width,
        height=height,
        kind="characteristic",
        title=title,
        description=_describe(bound, shown, rule["unit"]),
        items=[
            *_grid(bound, across, up, rule["unit"]),
            Polyline(_joined(edge, across, up), "band", closed=True),
            Polyline(_joined(edge, across, up), "band-edge", closed=True),
            Polyline(_joined(corners, across, up), "curve"),
            *(
                lozenge(across.place(x), up.place(y), HALF, f"{one.verdict}-mark")
                for one, x, y in shown
            ),
        ],
    )


def _bound(rule: Mapping[str, Any]) -> Bound | None:
    for bound in rule["bounds"]:
        if bound["kind"] != "near" or "of" in bound:
            continue
        expected = bound["expected"]
        if isinstance(expected, Mapping) and "points" in expected:
            found: Bound = numbers(bound)
            return found
    return None


def _placed(bound: Bound, read: Sequence[OnCard]) -> Sequence[Placed]:
    found = []
    for one in read:
        at = number(one.conditions, bound["expected"]["on"])
        if one.value is not None and one.exact and at is not None:
            found.append((one, at, one.value))
    return found


def _corners(points: Corners, read: Sequence[float]) -> Corners:
    """Return the corners, the last line cut off a little beyond what was read."""
    (x0, y0), (x1, y1) = points[-2:]
    end = min(x1, max([LAST * x0, *(ROOM * at for at in read)]))
    return [*points[:-1], (end, y0 + (y1 - y0) * (end - x0) / (x1 - x0))]


def _band(bound: Bound, corners: Corners) -> list[tuple[float, float, float]]:
    """Return (x, lowest, highest) of what is met at each corner."""
    pct, fixed = bound.get("pct", 0.0), bound.get("fixed", 0.0)
    found = []
    for x, y in corners:
        within = max(pct / 100 * abs(y), fixed)
        found.append((x, max(0.0, y - within), y + within))
    return found


def _joined(
    places: Sequence[Sequence[float]], across: Scale, up: Scale
) -> tuple[tuple[float, float], ...]:
    return tuple((across.place(x), up.place(y)) for x, y in places)


def _grid(bound: Bound, across: Scale, up: Scale, unit: str) -> list[Item]:
    items: list[Item] = []
    for value in across.ticks(6):
        x, said = across.place(value), plain(round(value, 9))
        items += [
            Line(x, up.start, x, up.end, "grid"),
            Text(x, up.start + 13, said, "figure", "middle"),
        ]
    for value in up.ticks(5):
        y, said = up.place(value), plain(round(value, 9))
        items += [
            Line(across.start, y, across.end, y, "grid"),
            Text(across.start - 5, y + 4, said, "figure", "end"),
        ]
    corner = ((across.start, up.end), (across.start, up.start), (across.end, up.start))
    below = str(bound["expected"].get("label", ""))
    return [
        *items,
        Polyline(corner, "axis"),
        Text(8, 14, said_unit(unit), "label"),
        Text(across.end, up.start + BOTTOM - 8, below, "label", "end"),
    ]


def _describe(bound: Bound, shown: Sequence[Placed], unit: str) -> str:
    corners = ", ".join(
        f"{plain(x)}: {plain(y)}" for x, y in bound["expected"]["points"]
    )
    on = bound["expected"].get("label", "condition")
    unit = said_unit(unit)
    said = [
        f"{one.label}: {figure(value)} {unit}, {one.verdict}" for one, _, value in shown
    ]
    return "; ".join([f"Over the {on}, in {unit}: {corners}", *said])
