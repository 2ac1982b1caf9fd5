"""One-line symbols, after IEC 60617 and IEEE 315 (shapes drawn from memory of both).

Each symbol is a few strokes in a box; the pages, the PDF and the tablet draw
the same strokes.
"""

from collections.abc import Callable, Sequence
from typing import Any

from webapp.drawing.shapes import Circle, Line, Polyline, Rect, Shape, moved

BOX = (60.0, 90.0)  # width and height every symbol is drawn in
MIDDLE = 30.0
INK, SOLID, UNKNOWN = "symbol", "symbol-solid", "symbol-unknown"

Strokes = list[Shape]


def _line(x1: float, y1: float, x2: float, y2: float) -> Line:
    return Line(x1, y1, x2, y2, INK)


def _earth(x: float, y: float) -> Strokes:
    """Return the earth sign: three bars, each shorter than the one above."""
    return [_line(x - h, y + d, x + h, y + d) for h, d in ((7, 0), (4.5, 3), (2, 6))]


def _box(x: float, y: float, side: float) -> Rect:
    return Rect(x - side / 2, y - side / 2, side, side, INK)


def _chevrons(y: float, way: float) -> Strokes:
    """Return the pair that means drawn out; *way* is -1 for up, 1 for down."""
    return [
        Polyline(
            (
                (MIDDLE - 7, at - 5 * way),
                (MIDDLE, at),
                (MIDDLE + 7, at - 5 * way),
            ),
            INK,
        )
        for at in (y, y + 5 * way)
    ]


def _breaker() -> Strokes:
    return [_line(30, 0, 30, 32), _box(30, 45, 26), _line(30, 58, 30, 90)]


def _breaker_drawout() -> Strokes:
    return [
        _line(30, 0, 30, 13),
        *_chevrons(18, -1),
        _line(30, 18, 30, 32),
        _box(30, 45, 26),
        _line(30, 58, 30, 72),
        *_chevrons(72, 1),
        _line(30, 77, 30, 90),
    ]


def _bus_tie(inner: Strokes) -> Strokes:
    """Return a breaker between two bus sections that come from above."""
    return [_line(8, 0, 8, 45), _line(52, 0, 52, 45), *inner, _box(30, 45, 22)]


def _bus_tie_fixed() -> Strokes:
    return _bus_tie([_line(8, 45, 19, 45), _line(41, 45, 52, 45)])


def _bus_tie_drawout() -> Strokes:
    inner: Strokes = [_line(8, 45, 10, 45), _line(50, 45, 52, 45)]
    for at, way in ((14, -1), (46, 1)):
        for tip in (at, at + 4 * way):
            points = ((tip - 4 * way, 39.0), (float(tip), 45.0), (tip - 4 * way, 51.0))
            inner.append(Polyline(points, INK))
    return [*_bus_tie(inner), _line(14, 45, 19, 45), _line(41, 45, 46, 45)]


def _blade(top: float, hinge: float) -> Strokes:
    """Return a load-break switch that isolates: bar and ring at the fixed contact."""
    return [
        _line(23, top, 37, top),
        Circle(30, top + 3.5, 3.5, INK),
        _line(30, hinge, 14, top + 5),
    ]


def _switch() -> Strokes:
    return [_line(30, 0, 30, 24), *_blade(24, 62), _line(30, 62, 30, 90)]


def _fused_switch() -> Strokes:
    return [
        _line(30, 0, 30, 10),
        *_blade(10, 42),
        _line(30, 42, 30, 90),
        Rect(24.5, 51, 11, 26, INK),
    ]


def _three_position_switch() -> Strokes:
    """Return the switch in its middle position: bus above, earth at the side."""
    return [
        _line(30, 0, 30, 18),
        *_blade(18, 54),
        _line(30, 54, 30, 90),
        Circle(30, 54, 1.8, SOLID),
        _line(3, 44, 3, 57),
        _line(3, 50, 9, 50),
        _line(9, 50, 9, 68),
        *[moved(s, -21, 0) for s in _earth(30, 68)],
    ]


def _vt() -> Strokes:
    return [
        _line(30, 0, 30, 38),
        Rect(25.5, 10, 9, 20, INK),
        Circle(30, 49, 11, INK),
        Circle(30, 63, 11, INK),
        _line(30, 74, 30, 80),
        *_earth(30, 80),
    ]


def _metering() -> Strokes:
    """Return a current transformer on the line and an integrating instrument."""
    return [
        _line(20, 0, 20, 90),
        Circle(20, 28, 8, INK),
        _line(28, 28, 44, 28),
        _line(35, 24, 38, 32),
        _line(44, 28, 44, 44),
        Rect(34, 44, 20, 24, INK),
        _line(34, 51, 54, 51),
        Polyline(((37, 56), (40, 64), (44, 57), (48, 64), (51, 56)), INK),
    ]


def _ct() -> Strokes:
    return [
        _line(30, 0, 30, 90),
        Circle(30, 45, 10, INK),
        _line(40, 45, 54, 45),
        _line(45, 41, 48, 49),
        _line(49, 41, 52, 49),
    ]


def _cable() -> Strokes:
    """Return a sealing end with the cable going down."""
    return [
        _line(30, 0, 30, 34),
        Polyline(((20, 34), (40, 34), (30, 54)), INK, closed=True),
        _line(30, 54, 30, 90),
        Polyline(((25, 82), (30, 90), (35, 82)), INK),
    ]


def _arrester() -> Strokes:
    return [
        _line(30, 0, 30, 22),
        Rect(22, 22, 16, 36, INK),
        _line(30, 22, 30, 46),
        Polyline(((26, 40), (34, 40), (30, 48)), SOLID, closed=True),
        _line(30, 58, 30, 74),
        *_earth(30, 74),
    ]


def _earthing_switch() -> Strokes:
    return [
        _line(30, 0, 30, 24),
        _line(23, 24, 37, 24),
        _line(30, 62, 14, 29),
        _line(30, 62, 30, 74),
        *_earth(30, 74),
    ]


def _fuse() -> Strokes:
    return [_line(30, 0, 30, 90), Rect(24, 30, 12, 30, INK)]


def _transformer() -> Strokes:
    return [
        _line(30, 0, 30, 18),
        Circle(30, 34, 16, INK),
        Circle(30, 55, 16, INK),
        _line(30, 71, 30, 90),
    ]


def _bus() -> Strokes:
    return [
        Rect(4, 42, 52, 5, SOLID),
        _line(30, 0, 30, 42),
        Circle(30, 44.5, 3.6, SOLID),
        _line(30, 47, 30, 90),
    ]


def _blank() -> Strokes:
    return [Rect(14, 26, 32, 38, UNKNOWN)]


_FIXED: dict[str, Callable[[], Strokes]] = {
    "breaker": _breaker,
    "bus_tie": _bus_tie_fixed,
    "switch": _switch,
    "fused_switch": _fused_switch,
    "three_position_switch": _three_position_switch,
    "earthing_switch": _earthing_switch,
    "vt": _vt,
    "ct": _ct,
    "metering": _metering,
    "cable": _cable,
    "arrester": _arrester,
    "fuse": _fuse,
    "transformer": _transformer,
    "bus": _bus,
    "blank": _blank,
}
_DRAWN_OUT = {"breaker": _breaker_drawout, "bus_tie": _bus_tie_drawout}

KIND_WORDS = {
    "breaker": "circuit breaker",
    "bus_tie": "bus tie breaker",
    "switch": "load-break switch",
    "fused_switch": "fused load-break switch",
    "three_position_switch": "three-position switch",
    "earthing_switch": "earthing switch",
    "vt": "voltage transformer",
    "ct": "current transformer",
    "metering": "metering",
    "cable": "cable connection",
    "arrester": "surge arrester",
    "fuse": "fuses",
    "transformer": "transformer",
    "bus": "bus riser",
    "blank": "no apparatus",
}


def symbol(kind: str, gear: str = "") -> Strokes:
    """Return the strokes of *kind*; one that is not known is a dashed box.

    In metal-clad gear breakers are drawn out, and shown so.
    """
    table = _FIXED | (_DRAWN_OUT if gear == "metal_clad" else {})
    return table.get(kind, _blank)()


def symbols(gear: str = "") -> dict[str, dict[str, Any]]:
    """Return every symbol as path data for the tablet, `box` being its size.

    `paths` are to be stroked, `solid` to be filled as well.
    """
    return {
        kind: {
            "paths": _paths(symbol(kind, gear), solid=False),
            "solid": _paths(symbol(kind, gear), solid=True),
            "box": [int(side) for side in BOX],
        }
        for kind in _FIXED
    }


def _paths(strokes: Sequence[Shape], *, solid: bool) -> list[str]:
    return [path_data(s) for s in strokes if (s.style == SOLID) is solid]


def path_data(shape: Shape) -> str:
    """Return a stroke as SVG path data."""
    match shape:
        case Line(x1, y1, x2, y2):
            return f"M{x1:g} {y1:g}L{x2:g} {y2:g}"
        case Rect(x, y, width, height):
            return f"M{x:g} {y:g}h{width:g}v{height:g}h{-width:g}Z"
        case Polyline(points, _, closed):
            joined = "L".join(f"{x:g} {y:g}" for x, y in points)
            return f"M{joined}{'Z' if closed else ''}"
        case Circle(x, y, r):
            return (
                f"M{x - r:g} {y:g}a{r:g} {r:g} 0 1 0 {2 * r:g} 0"
                f"a{r:g} {r:g} 0 1 0 {-2 * r:g} 0Z"
            )
        case _:
            raise TypeError(f"{type(shape).__name__} is no stroke of a symbol")
