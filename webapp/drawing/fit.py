"""Fit words into a width without knowing the typeface."""

NARROW = frozenset("iljftrI.,:;|!'()[]- ·")
WIDE = frozenset("mwMW@%")
# em widths of a wide sans: what fits here fits in most faces
NARROW_EM, WIDE_EM, UPPER_EM, OTHER_EM = 0.38, 0.95, 0.72, 0.6


def text_width(text: str, size: float) -> float:
    """Return about how wide *text* is at *size*, on the safe side."""
    return size * sum(_em(character) for character in text)


def _em(character: str) -> float:
    if character in NARROW:
        return NARROW_EM
    if character in WIDE:
        return WIDE_EM
    return UPPER_EM if character.isupper() else OTHER_EM


def wrap(text: str, width: float, size: float, lines: int) -> list[str]:
    """Return *text* in at most *lines* lines of *width*; what is cut ends in …"""
    rows: list[str] = []
    for word in text.split():
        if rows and text_width(f"{rows[-1]} {word}", size) <= width:
            rows[-1] = f"{rows[-1]} {word}"
        else:
            rows.append(word)
    if len(rows) > lines:
        rows = [*rows[: lines - 1], " ".join(rows[lines - 1 :])]
    return [shortened(row, width, size) for row in rows]


def shortened(text: str, width: float, size: float) -> str:
    """Return *text*, cut with … where it is wider than *width*."""
    if text_width(text, size) <= width:
        return text
    kept = text
    while kept and text_width(f"{kept}…", size) > width:
        kept = kept[:-1]
    return f"{kept.rstrip()}…"
