"""The drawing sheet round every page: frame, title block, record line."""

from collections.abc import Mapping
from typing import Any

from webapp.drawing.shapes import Item, Line, Rect, Text
from webapp.pdf import times
from webapp.pdf.faces import font_of, leading_of, size_of
from webapp.pdf.fonts import shortened
from webapp.pdf.sheets import (
    BLOCK_HEIGHT,
    FRAME_BOTTOM,
    FRAME_LEFT,
    FRAME_RIGHT,
    FRAME_TOP,
    RECORD_HEIGHT,
    lines_of,
)

SHARES = (150.0, 88.0, 112.0, 84.0, 26.0, 50.2)  # of the title block's fields
SHORT_DIGEST = 16

Doc = Mapping[str, Any]


def frame(
    document: Doc, title: str, page: int, pages: int, digest: str, *, draft: bool
) -> list[Item]:
    """Return what stands on every page, around what it says."""
    return [
        Rect(
            FRAME_LEFT,
            FRAME_TOP,
            FRAME_RIGHT - FRAME_LEFT,
            FRAME_BOTTOM - FRAME_TOP,
            "frame",
        ),
        *title_block(document, title, page, pages),
        *_record(document, digest, draft=draft),
    ]


def title_block(document: Doc, title: str, page: int, pages: int) -> list[Item]:
    """Return the fields at the foot: site, lineup, round, sheet, revision, page."""
    top = FRAME_BOTTOM - BLOCK_HEIGHT
    lineup = document["lineup"]
    fields = (
        ("Site", document["site"]["name"]),
        ("Lineup", f"{lineup['name']} {lineup['gear'].replace('_', '-')}"),
        ("Round", document["round"]["title"]),
        ("Sheet", title),
        ("Rev", str(document["revision"])),
        ("Page", f"{page} of {pages}"),
    )
    items: list[Item] = [Line(FRAME_LEFT, top, FRAME_RIGHT, top, "strong-rule")]
    x = FRAME_LEFT
    for (label, value), width in zip(fields, SHARES, strict=True):
        if x > FRAME_LEFT:
            items.append(Line(x, top, x, FRAME_BOTTOM, "hairline"))
        items += _field(x + 6, top, width - 9, label, value)
        x += width
    return items


def _field(x: float, top: float, width: float, label: str, value: str) -> list[Item]:
    lines = list(lines_of(value, "body", width))
    if len(lines) > 2:
        rest = " ".join(lines[1:])
        lines = [lines[0], shortened(rest, font_of("body"), size_of("body"), width)]
    leading = leading_of("body")
    return [
        Text(x, top + 9, label, "tiny"),
        *(
            Text(x, top + 21 + leading * n, line, "body")
            for n, line in enumerate(lines)
        ),
    ]


def _record(document: Doc, digest: str, *, draft: bool) -> list[Item]:
    """Return the line that names the record on every page, and says DRAFT."""
    y = FRAME_BOTTOM - BLOCK_HEIGHT - 4
    made = times.at(document["made_at"], document["zone"])
    data = f"data SHA-256 {digest[:SHORT_DIGEST]}…"
    words = f"Record {document['uid']} · made {made} · {data}"
    items: list[Item] = [
        Line(
            FRAME_LEFT,
            FRAME_BOTTOM - BLOCK_HEIGHT - RECORD_HEIGHT,
            FRAME_RIGHT,
            FRAME_BOTTOM - BLOCK_HEIGHT - RECORD_HEIGHT,
            "hairline",
        ),
        Text(FRAME_LEFT + 6, y, words, "tiny"),
    ]
    if draft:
        items.append(Text(FRAME_RIGHT - 6, y, "DRAFT: not signed", "draft-line", "end"))
    return items
