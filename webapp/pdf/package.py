"""The package: a frozen document in, the bytes of its file out."""

import hashlib
import io
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from models.signing.chain import canonical
from webapp.drawing.shapes import Text
from webapp.pdf.archive import MADE_BY, to_archive
from webapp.pdf.attachments import Attachment
from webapp.pdf.cards import cards
from webapp.pdf.cover import cover
from webapp.pdf.fonts import SANS, register
from webapp.pdf.frame import frame
from webapp.pdf.lists import lists
from webapp.pdf.photographs import Printed, photographs
from webapp.pdf.preconditions import preconditions
from webapp.pdf.reportlab_shapes import draw, draw_items
from webapp.pdf.safety_page import safety_page
from webapp.pdf.sheets import PAPER_HEIGHT, PAPER_WIDTH, Sheets
from webapp.pdf.signatures import signature_sheets

Doc = Mapping[str, Any]


def render_package(
    document: Doc,
    attachments: Sequence[Attachment],
    *,
    draft: bool = False,
    printed: Printed | None = None,
) -> bytes:
    """Return the package of *document* as PDF/A-3b, ready to be signed.

    *printed*: the photographs, made small for paper. The same document gives the same
    bytes. A draft says so on every page and
    has no boxes to sign in.
    """
    draft = draft or bool(document.get("draft"))
    digest = hashlib.sha256(canonical(document)).hexdigest()
    safety = document.get("safety")  # not in a round that has confirmations alone
    sheets = Sheets()
    cover(sheets, document, digest)
    if any(card["preconditions"] for card in document["cards"]) or not safety:
        preconditions(sheets, document)
    if safety:
        safety_page(sheets, document)
    cards(sheets, document)
    lists(sheets, document)
    photographs(sheets, document, printed)
    signature_sheets(sheets, document, digest, draft=draft)
    site, lineup = document["site"]["name"], document["lineup"]["name"]
    title = f"{site}, lineup {lineup}, {document['round']['title']}"
    return to_archive(
        _paint(sheets, document, digest, draft=draft),
        title=f"{title}, revision {document['revision']}{', DRAFT' if draft else ''}",
        author=document["firm"]["name"],
        made_at=datetime.fromisoformat(document["made_at"]),
        attachments=attachments,
    )


def _paint(sheets: Sheets, document: Doc, digest: str, *, draft: bool) -> bytes:
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
        if draft:
            _draft_word(canvas)
        for words, level in page.marks:
            key = f"p{number}-{words}"
            canvas.bookmarkPage(key)
            canvas.addOutlineEntry(words, key, level, closed=level == 0)
        draw_items(canvas, page.items, PAPER_HEIGHT)
        for one in page.pictures:
            canvas.drawImage(
                ImageReader(io.BytesIO(one.jpeg)),
                one.x,
                PAPER_HEIGHT - one.y - one.height,
                one.width,
                one.height,
            )
        for drawing, x, y, times in page.placed:
            draw(canvas, drawing, x, PAPER_HEIGHT - y, times)
        around = frame(
            document, page.title, number, len(sheets.pages), digest, draft=draft
        )
        draw_items(canvas, around, PAPER_HEIGHT)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _draft_word(canvas: Canvas) -> None:
    """Write DRAFT across the page, pale, under everything else."""
    canvas.saveState()
    canvas.translate(PAPER_WIDTH / 2, PAPER_HEIGHT / 2)
    canvas.rotate(55)
    draw_items(canvas, [Text(0, 40, "DRAFT", "draft-word", "middle")], 0)
    canvas.restoreState()
