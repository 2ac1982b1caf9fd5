"""Paint sheets to write on: frame, title block, and what they are."""

import io
from collections.abc import Mapping
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from webapp.drawing.shapes import Rect, Text
from webapp.pdf.archive import MADE_BY
from webapp.pdf.fonts import SANS, register
from webapp.pdf.frame import title_block
from webapp.pdf.reportlab_shapes import draw_items
from webapp.pdf.sheets import (
    BLOCK_HEIGHT,
    FRAME_BOTTOM,
    FRAME_LEFT,
    FRAME_RIGHT,
    FRAME_TOP,
    PAPER_HEIGHT,
    PAPER_WIDTH,
    Sheets,
)

Doc = Mapping[str, Any]


def paint_form(sheets: Sheets, document: Doc, foot: str) -> bytes:
    """Return the pages as PDF; *foot* says on each what it is, and when printed."""
    register()
    out = io.BytesIO()
    canvas = Canvas(
        out,
        pagesize=(PAPER_WIDTH, PAPER_HEIGHT),
        invariant=1,
        pageCompression=1,
        initialFontName=SANS,
    )
    canvas.setCreator(MADE_BY)
    for number, page in enumerate(sheets.pages, start=1):
        draw_items(canvas, page.items, PAPER_HEIGHT)
        around = [
            Rect(
                FRAME_LEFT,
                FRAME_TOP,
                FRAME_RIGHT - FRAME_LEFT,
                FRAME_BOTTOM - FRAME_TOP,
                "frame",
            ),
            *title_block(document, page.title, number, len(sheets.pages)),
            Text(FRAME_LEFT + 6, FRAME_BOTTOM - BLOCK_HEIGHT - 4, foot, "tiny"),
        ]
        draw_items(canvas, around, PAPER_HEIGHT)
        canvas.showPage()
    canvas.save()
    return out.getvalue()
