"""The verdict's shape: a disc, a half disc, a triangle, a dashed ring."""

from webapp.drawing.shapes import Circle, HalfDisc, Polyline, Shape


def verdict_mark(verdict: str, x: float, y: float, radius: float) -> list[Shape]:
    """Return the shape of *verdict* centred at (x, y)."""
    style = f"{verdict}-mark"
    if verdict == "outside":
        points = (
            (x, y - radius),
            (x + radius, y + radius * 0.85),
            (x - radius, y + radius * 0.85),
        )
        return [Polyline(points, style, closed=True)]
    if verdict == "marginal":
        return [Circle(x, y, radius, "ring"), HalfDisc(x, y, radius, style)]
    return [Circle(x, y, radius, style)]


def lozenge(x: float, y: float, half: float, style: str) -> Polyline:
    """Return the mark of a corrected reading on a scale."""
    wide = half * 0.62
    points = ((x, y - half), (x + wide, y), (x, y + half), (x - wide, y))
    return Polyline(points, style, closed=True)
