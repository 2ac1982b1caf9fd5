"""The faces that go into every file, and how wide words are in them."""

from functools import lru_cache
from pathlib import Path

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont, TTFontFace

SANS, BOLD, MONO = "WM-Sans", "WM-Sans-Bold", "WM-Mono"
FILES = {
    SANS: "DejaVuSans.ttf",
    BOLD: "DejaVuSans-Bold.ttf",
    MONO: "DejaVuSansMono.ttf",
}
FOLDER = Path(__file__).parent / "fonts"
NUMBER_OF_H_METRICS = 34  # where hhea has it (OpenType specification, hhea)
MISSING = "\ufffd"  # has a glyph in every face used here


@lru_cache(maxsize=1)
def register() -> None:
    """Make the faces known to ReportLab, once in a process."""
    for name, file in FILES.items():
        font = TTFont(name, str(FOLDER / file))
        _mend_widths(font.face)
        pdfmetrics.registerFont(font)
    # Without this a Canvas names Helvetica, which is in no file and which PDF/A
    # therefore does not allow.
    rl_config.canvas_basefontname = SANS


def _mend_widths(face: TTFontFace) -> None:
    """Give the glyphs that share the table's last advance that advance.

    ReportLab 5.1 keeps it scaled to 1000 units for them, so that a subset says
    other widths than the PDF does, which PDF/A forbids (ISO 19005-3, 6.2.11.5).
    """
    face.seek_table("hhea")
    face.skip(NUMBER_OF_H_METRICS)
    full = face.read_ushort()
    advance = face.hmetrics[full - 1][0]
    face.hmetrics[full:] = [(advance, lsb) for _, lsb in face.hmetrics[full:]]


@lru_cache(maxsize=3)
def _known(font: str) -> frozenset[int]:
    register()
    return frozenset(pdfmetrics.getFont(font).face.charToGlyph)


@lru_cache(maxsize=16384)
def printable(text: str, font: str) -> str:
    """Return *text* with a sign in place of what the face has no glyph for.

    PDF/A refuses a missing glyph (ISO 19005-3, 6.2.11.8); the attached data keep
    the text as it was.
    """
    known = _known(font)
    flat = " ".join(text.split()) if not text.isprintable() else text
    if all(ord(character) in known for character in flat):
        return flat
    return "".join(c if ord(c) in known else MISSING for c in flat)


@lru_cache(maxsize=65536)
def width_of(text: str, font: str, size: float) -> float:
    """Return how wide *text* is, in points."""
    register()
    return float(pdfmetrics.stringWidth(text, font, size))


@lru_cache(maxsize=16384)
def wrapped(text: str, font: str, size: float, width: float) -> tuple[str, ...]:
    """Return *text* in lines no wider than *width*; line breaks in it are kept."""
    lines: list[str] = []
    for paragraph in text.splitlines() or [""]:
        lines += _wrap_paragraph(printable(paragraph, font), font, size, width)
    return tuple(lines)


def _wrap_paragraph(text: str, font: str, size: float, width: float) -> list[str]:
    rows = [""]
    for word in text.split():
        joined = f"{rows[-1]} {word}".strip()
        if width_of(joined, font, size) <= width:
            rows[-1] = joined
            continue
        pieces = _pieces(word, font, size, width)
        rows = [*rows, *pieces] if rows[-1] else [*rows[:-1], *pieces]
    return rows


def _pieces(word: str, font: str, size: float, width: float) -> list[str]:
    """Return a word in pieces that fit: one without a space may be of any length."""
    pieces = [""]
    for character in word:
        if pieces[-1] and width_of(pieces[-1] + character, font, size) > width:
            pieces.append("")
        pieces[-1] += character
    return pieces


def shortened(text: str, font: str, size: float, width: float) -> str:
    """Return *text* in one line of *width*, cut with … where it is longer."""
    kept = printable(text, font)
    if width_of(kept, font, size) <= width:
        return kept
    while kept and width_of(f"{kept}…", font, size) > width:
        kept = kept[:-1]
    return f"{kept.rstrip()}…"
