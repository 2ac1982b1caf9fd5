"""A drawing as inline SVG: class names only, so that a strict policy lets it pass."""

import re
from html import escape as html_escape

from webapp.drawing.shapes import (
    Circle,
    Drawing,
    Group,
    HalfDisc,
    Item,
    Line,
    Polyline,
    Rect,
    Shape,
    Text,
)

# Characters that XML 1.0 does not know (its production 2, Char).
NO_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def svg(drawing: Drawing) -> str:
    """Return *drawing* as an `<svg>` element to put into a page.

    A drawing without links is one image to a screen reader, named by its title
    and described by its description. One with links is a group, since whatever
    is inside an image is hidden from those who cannot see it.
    """
    role = "group" if drawing.has_links else "img"
    width, height = _n(drawing.width), _n(drawing.height)
    return (
        f'<svg class="drawing drawing-{escape(drawing.kind)}" role="{role}" '
        f'aria-label="{escape(drawing.title)}" viewBox="0 0 {width} {height}" '
        f'width="{width}" height="{height}" xmlns="http://www.w3.org/2000/svg">'
        f"<title>{escape(drawing.title)}</title>"
        f"<desc>{escape(drawing.description)}</desc>"
        f"{''.join(_item(item) for item in drawing.items)}</svg>"
    )


def _item(item: Item) -> str:
    if not isinstance(item, Group):
        return _shape(item)
    classes = f' class="{escape(item.style)}"' if item.style else ""
    if item.href:
        # a space keeps the words of two texts apart
        inner = " ".join(_item(one) for one in item.items)
        name = escape(_link_name(item))
        return f'<a href="{escape(item.href)}" aria-label="{name}"{classes}>{inner}</a>'
    inner = "".join(_item(one) for one in item.items)
    return f"<g{classes}>{inner}</g>"


def _link_name(item: Group) -> str:
    """Return the link's name: it holds the words that are seen on it.

    Who speaks to the machine says what they see (WCAG 2.1, success criterion 2.5.3,
    Label in Name). Words that were cut for want of room go before the title.
    """
    seen = " ".join(one.text for one in item.items if isinstance(one, Text))
    held = _spoken(seen) in _spoken(item.title)
    return item.title if held else f"{seen} ({item.title})"


def _spoken(text: str) -> str:
    return " ".join(re.findall(r"\w+", text.lower()))


def _shape(shape: Shape) -> str:
    name = f'class="d-{shape.style}"'
    match shape:
        case Line(x1, y1, x2, y2):
            begin, end = f'x1="{_n(x1)}" y1="{_n(y1)}"', f'x2="{_n(x2)}" y2="{_n(y2)}"'
            return f"<line {name} {begin} {end}/>"
        case Rect(x, y, width, height):
            return (
                f'<rect {name} x="{_n(x)}" y="{_n(y)}" '
                f'width="{_n(width)}" height="{_n(height)}"/>'
            )
        case Polyline(points, _, closed):
            tag = "polygon" if closed else "polyline"
            places = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
            return f'<{tag} {name} points="{places}"/>'
        case Circle(x, y, radius):
            return f'<circle {name} cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}"/>'
        case HalfDisc(x, y, radius):
            r = _n(radius)
            top, bottom = _n(y - radius), _n(y + radius)
            return f'<path {name} d="M{_n(x)} {top}A{r} {r} 0 0 1 {_n(x)} {bottom}Z"/>'
        case Text(x, y, text, _, anchor):
            return (
                f'<text {name} x="{_n(x)}" y="{_n(y)}" text-anchor="{anchor}">'
                f"{escape(text)}</text>"
            )


def _n(value: float) -> str:
    """Return a length with two decimals at most."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def escape(text: str) -> str:
    """Return *text* for an element or an attribute of well-formed XML."""
    return html_escape(NO_XML.sub("\ufffd", text))
