"""What a signature looks like on its box."""

import io
from collections.abc import Sequence

from reportlab.pdfgen.canvas import Canvas

from webapp.drawing.shapes import Item, Polyline, Rect, Text
from webapp.pdf.faces import leading_of
from webapp.pdf.fonts import SANS, register
from webapp.pdf.reportlab_shapes import draw_items
from webapp.pdf.sheets import lines_of

LEFT = 20.0


def stamp(lines: Sequence[str], width: float, height: float) -> bytes:
    """Return one PDF page of *width* by *height* points that says *lines*.

    The first is the name. The typeface is embedded, so that the file stays
    PDF/A with the signature in it. Lines beyond the box are left out.
    """
    register()
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(width, height), invariant=1, initialFontName=SANS)
    items: list[Item] = [
        Rect(0.6, 0.6, width - 1.2, height - 1.2, "stamp"),
        Polyline(((5, 19), (11, 7), (15, 7), (9, 19)), "stripe", closed=True),
    ]
    y = 5.0
    for n, line in enumerate(lines):
        style = "small-ink" if n else "body-strong"
        for words in lines_of(line, style, width - LEFT - 5):
            y += leading_of(style)
            if y > height - 3:
                break
            items.append(Text(LEFT, y - leading_of(style) * 0.2, words, style))
    draw_items(canvas, items, height)
    canvas.showPage()
    canvas.save()
    return out.getvalue()
