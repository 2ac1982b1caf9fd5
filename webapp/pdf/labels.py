"""Labels to cut or to print on sheets of 24 labels of 70 mm by 37 mm."""

import io
from collections.abc import Mapping
from datetime import datetime
from uuid import UUID

import segno
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from models.record.labels import Label, LineupLabels
from webapp.pdf.archive import MADE_BY, to_archive
from webapp.pdf.fonts import BOLD, SANS, printable, register, wrapped

PAPER = (210 * mm, 297 * mm)
ACROSS, DOWN = 3, 8
WIDE, HIGH = 70 * mm, 37 * mm
CODE = 26 * mm  # the code's side with its quiet zone
QUIET = 4  # modules of white around a code (ISO/IEC 18004)
INSET = 3.5 * mm
HEAD_SIZE, LINE_SIZE = 11.0, 7.5


def render_labels(
    sheet: LineupLabels, addresses: Mapping[UUID, str], *, made_at: datetime
) -> bytes:
    """Return the labels as PDF; *addresses*: what the code of each thing holds."""
    register()
    out = io.BytesIO()
    canvas = Canvas(
        out, pagesize=PAPER, invariant=1, pageCompression=1, initialFontName=SANS
    )
    canvas.setCreator(MADE_BY)
    for number, label in enumerate(sheet.labels):
        place = number % (ACROSS * DOWN)
        if number and not place:
            canvas.showPage()
        row, column = divmod(place, ACROSS)
        left, top = column * WIDE, PAPER[1] - (PAPER[1] - DOWN * HIGH) / 2 - row * HIGH
        _paint(canvas, label, addresses[label.thing_id], left, top)
    canvas.showPage()
    canvas.save()
    return to_archive(
        out.getvalue(),
        title=f"Labels, {sheet.site_name}, lineup {sheet.lineup_name}",
        author=sheet.site_name,
        made_at=made_at,
        attachments=(),
    )


def _paint(canvas: Canvas, label: Label, address: str, left: float, top: float) -> None:
    _code(canvas, address, left + WIDE - CODE - INSET / 2, top - (HIGH + CODE) / 2)
    room = WIDE - CODE - INSET * 1.5
    at = top - INSET - HEAD_SIZE - 2
    for text, face, size in (
        (label.head, BOLD, HEAD_SIZE),
        *((line, SANS, LINE_SIZE) for line in label.lines),
    ):
        for line in wrapped(printable(text, face), face, size, room)[:2]:
            canvas.setFont(face, size)
            canvas.drawString(left + INSET, at, line)
            at -= size * 1.3
        at -= 2


def _code(canvas: Canvas, address: str, left: float, bottom: float) -> None:
    """Paint a QR code; level Q stands a quarter of it being dirty (ISO/IEC 18004)."""
    rows = list(segno.make_qr(address, error="q").matrix_iter(border=QUIET))
    side = CODE / len(rows)
    path = canvas.beginPath()
    for down, row in enumerate(reversed(rows)):
        for across, dark in enumerate(row):
            if dark:
                path.rect(left + across * side, bottom + down * side, side, side)
    canvas.drawPath(path, stroke=0, fill=1)
