"""The widths that the PDF states against those inside its fonts.

ISO 19005-3, 6.2.11.5: both must be the same. The fonts are read here by hand, after
the OpenType specification (head, hhea, hmtx, cmap format 6).
"""

import io
import struct

import pikepdf

from tests.webapp.pdf.sample_document import sample_document
from webapp.pdf import render_package

ROUNDING = 1.0  # thousandths of an em


def tables(font: bytes) -> dict[str, bytes]:
    count = struct.unpack(">H", font[4:6])[0]
    found = {}
    for n in range(count):
        tag, _, start, length = struct.unpack(">4sLLL", font[12 + 16 * n : 28 + 16 * n])
        found[tag.decode("ascii")] = font[start : start + length]
    return found


def advances(font: bytes) -> dict[int, float]:
    """Return character code -> advance in thousandths of an em."""
    parts = tables(font)
    per_em = struct.unpack(">H", parts["head"][18:20])[0]
    full = struct.unpack(">H", parts["hhea"][34:36])[0]
    cmap = parts["cmap"]
    start = struct.unpack(">L", cmap[8:12])[0]
    form, _, _, first, count = struct.unpack(">5H", cmap[start : start + 10])
    assert form == 6
    glyphs = struct.unpack(f">{count}H", cmap[start + 10 : start + 10 + 2 * count])
    found = {}
    for code, glyph in enumerate(glyphs, start=first):
        at = 4 * min(glyph, full - 1)
        advance = struct.unpack(">H", parts["hmtx"][at : at + 2])[0]
        found[code] = advance * 1000 / per_em
    return found


def test_every_font_says_the_widths_that_the_file_says() -> None:
    pdf = pikepdf.open(io.BytesIO(render_package(sample_document(), [])))
    fonts = {
        font.objgen: font
        for page in pdf.pages
        for _, font in page.Resources.get("/Font", {}).items()
    }
    assert {str(font.BaseFont).split("+")[1] for font in fonts.values()} == {
        "DejaVuSans",
        "DejaVuSans-Bold",
        "DejaVuSansMono",
    }
    for font in fonts.values():
        inside = advances(font.FontDescriptor.FontFile2.read_bytes())
        first = int(font.FirstChar)
        for code, width in enumerate(font.Widths, start=first):
            if code in inside:
                assert abs(float(width) - inside[code]) < ROUNDING, (
                    font.BaseFont,
                    code,
                )
