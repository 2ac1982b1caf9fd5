"""Draw shapes on a ReportLab canvas: y is turned over, names become colours."""

from collections.abc import Sequence
from functools import lru_cache

from reportlab.lib.colors import Color, HexColor
from reportlab.pdfgen.canvas import Canvas

from webapp.drawing.shapes import (
    Circle,
    Drawing,
    HalfDisc,
    Item,
    Line,
    Polyline,
    Rect,
    Shape,
    Text,
    shapes_of,
)
from webapp.drawing.styles import PALETTE
from webapp.pdf.faces import ALL_STYLES, font_of
from webapp.pdf.fonts import printable


@lru_cache(maxsize=64)
def colour(name: str) -> Color:
    """Return a palette colour for paper."""
    return HexColor(PALETTE[name])


def draw(
    canvas: Canvas, drawing: Drawing, x: float, y: float, times: float = 1.0
) -> None:
    """Draw *drawing* with its upper left corner at (x, y) of the page, y upwards."""
    canvas.saveState()
    canvas.translate(x, y)
    canvas.scale(times, times)
    draw_items(canvas, drawing.items, 0.0)
    canvas.restoreState()


def draw_items(canvas: Canvas, items: Sequence[Item], top: float) -> None:
    """Draw *items*, whose y counts downwards from *top*."""
    for shape in shapes_of(items):
        if isinstance(shape, Text):
            _draw_text(canvas, shape, top)
        else:
            _draw_shape(canvas, shape, top)


def _draw_text(canvas: Canvas, shape: Text, top: float) -> None:
    style, font = ALL_STYLES[shape.style], font_of(shape.style)
    canvas.setFont(font, style.size)
    canvas.setFillColor(colour(style.fill))
    text = printable(shape.text, font)
    if shape.anchor == "middle":
        canvas.drawCentredString(shape.x, top - shape.y, text)
    elif shape.anchor == "end":
        canvas.drawRightString(shape.x, top - shape.y, text)
    else:
        canvas.drawString(shape.x, top - shape.y, text)


def _draw_shape(canvas: Canvas, shape: Shape, top: float) -> None:
    style = ALL_STYLES[shape.style]
    stroke, fill = int(bool(style.stroke)), int(bool(style.fill))
    if stroke:
        canvas.setStrokeColor(colour(style.stroke))
        canvas.setLineWidth(style.width)
        canvas.setDash(*([list(style.dash)] if style.dash else []))
    if fill:
        canvas.setFillColor(colour(style.fill))
    match shape:
        case Line(x1, y1, x2, y2):
            canvas.line(x1, top - y1, x2, top - y2)
        case Rect(x, y, width, height):
            canvas.rect(x, top - y - height, width, height, stroke, fill)
        case Circle(x, y, radius):
            canvas.circle(x, top - y, radius, stroke, fill)
        case HalfDisc(x, y, radius):
            path = canvas.beginPath()
            path.arc(
                x - radius, top - y - radius, x + radius, top - y + radius, -90, 180
            )
            path.close()
            canvas.drawPath(path, stroke, fill)
        case Polyline(points, _, closed):
            path = canvas.beginPath()
            path.moveTo(points[0][0], top - points[0][1])
            for x, y in points[1:]:
                path.lineTo(x, top - y)
            if closed:
                path.close()
            canvas.drawPath(path, stroke, fill if closed else 0)
