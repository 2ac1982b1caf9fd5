"""A drawing: a handful of shapes with style names, y growing downwards.

Lengths are in points on paper and in CSS pixels on a screen. A style is a name
of `webapp.drawing.styles`: the shapes know no colour.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    style: str


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle by its upper left corner."""

    x: float
    y: float
    width: float
    height: float
    style: str


@dataclass(frozen=True, slots=True)
class Polyline:
    """Joined lines; *closed* joins the last point with the first."""

    points: tuple[tuple[float, float], ...]
    style: str
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle by its centre."""

    x: float
    y: float
    radius: float
    style: str


@dataclass(frozen=True, slots=True)
class HalfDisc:
    """The right half of a disc."""

    x: float
    y: float
    radius: float
    style: str


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text on its base line; *anchor* is start, middle or end."""

    x: float
    y: float
    text: str
    style: str
    anchor: str = "start"


Shape = Line | Rect | Polyline | Circle | HalfDisc | Text


@dataclass(frozen=True, slots=True)
class Group:
    """Shapes that belong together; with *href* they are a link named *title*."""

    items: tuple["Shape | Group", ...]
    style: str = ""
    title: str = ""
    href: str = ""


Item = Shape | Group


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """What is drawn, how large it is, and what it shows in words."""

    width: float
    height: float
    title: str
    description: str
    kind: str
    items: Sequence[Item] = field(default_factory=tuple)

    @property
    def has_links(self) -> bool:
        """Whether something in it can be followed."""
        return any(isinstance(item, Group) and item.href for item in self.items)


def shapes_of(items: Sequence[Item]) -> Iterator[Shape]:
    """Yield the shapes of *items* in drawing order, groups opened."""
    for item in items:
        if isinstance(item, Group):
            yield from shapes_of(item.items)
        else:
            yield item


def moved(shape: Shape, dx: float, dy: float, times: float = 1.0) -> Shape:
    """Return *shape* scaled about the origin by *times*, then moved."""
    if isinstance(shape, Line):
        return Line(
            shape.x1 * times + dx,
            shape.y1 * times + dy,
            shape.x2 * times + dx,
            shape.y2 * times + dy,
            shape.style,
        )
    if isinstance(shape, Polyline):
        points = tuple((x * times + dx, y * times + dy) for x, y in shape.points)
        return Polyline(points, shape.style, shape.closed)
    x, y = shape.x * times + dx, shape.y * times + dy
    if isinstance(shape, Rect):
        return Rect(x, y, shape.width * times, shape.height * times, shape.style)
    if isinstance(shape, Circle | HalfDisc):
        return type(shape)(x, y, shape.radius * times, shape.style)
    return Text(x, y, shape.text, shape.style, shape.anchor)
