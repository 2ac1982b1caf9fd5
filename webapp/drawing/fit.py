"""Fit words into a width without knowing the typeface."""

from webapp.drawing.styles import STYLES

NARROW = frozenset("iljftrI.,:;|!'()[]- ·")
WIDE = frozenset("mwMW@%")
# em widths of a wide sans: what fits here fits in most faces
NARROW_EM, WIDE_EM, UPPER_EM, DIGIT_EM, OTHER_EM = 0.4, 1.0, 0.72, 0.64, 0.62
BOLD_TIMES = 1.13


def text_width(text: str, style: str) -> float:
    """Return about how wide *text* is in *style*, on the safe side."""
    look = STYLES[style]
    ems = sum(_em(character) for character in text)
    return look.size * ems * (BOLD_TIMES if look.bold else 1.0)


def _em(character: str) -> float:
    if character in NARROW:
        return NARROW_EM
    if character in WIDE:
        return WIDE_EM
    if character.isdecimal():
        return DIGIT_EM
    return UPPER_EM if character.isupper() else OTHER_EM


def wrap(text: str, width: float, style: str, lines: int) -> list[str]:
    """Return *text* in at most *lines* lines of *width*; what is cut ends in …"""
    rows: list[str] = []
    for word in text.split():
        if rows and text_width(f"{rows[-1]} {word}", style) <= width:
            rows[-1] = f"{rows[-1]} {word}"
        else:
            rows.append(word)
    if len(rows) > lines:
        rows = [*rows[: lines - 1], " ".join(rows[lines - 1 :])]
    return [shortened(row, width, style) for row in rows]


def shortened(text: str, width: float, style: str) -> str:
    """Return *text*, cut with … where it is wider than *width*."""
    if text_width(text, style) <= width:
        return text
    kept = text
    while kept and text_width(f"{kept}…", style) > width:
        kept = kept[:-1]
    return f"{kept.rstrip()}…"
