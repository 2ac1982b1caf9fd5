"""Styles of the pages' own text and lines, beside those of the drawings."""

from webapp.drawing.styles import STYLES, Style
from webapp.pdf.fonts import BOLD, MONO, SANS

MONO_STYLES = frozenset({"reading", "mono", "mono-small", "struck"})
LEADING = 1.36  # line distance over type size
DENSE_LEADING = 1.2  # of the one page that is to hold a whole round's safety
DENSE_STYLES = frozenset({"dense", "dense-strong", "dense-head"})

PAGE_STYLES: dict[str, Style] = {
    "frame": Style(stroke="ink", width=1.1),
    "frame-thin": Style(stroke="rule", width=0.6),
    "hairline": Style(stroke="rule", width=0.5),
    "strong-rule": Style(stroke="ink", width=1.1),
    "stripe": Style(fill="accent"),
    "ground": Style(fill="page"),
    "stamp": Style(fill="sheet"),
    "strike": Style(stroke="ink", width=0.8),
    "draft-word": Style(fill="page", size=120, bold=True),
    "draft-line": Style(fill="outside", size=7.5, bold=True),
    "verdict-word-large": Style(fill="ink", size=30, bold=True),
    "verdict-word-long": Style(fill="ink", size=24, bold=True),
    "title": Style(fill="ink", size=15, bold=True),
    "heading": Style(fill="ink", size=11, bold=True),
    "subheading": Style(fill="ink", size=8.6, bold=True),
    "body": Style(fill="ink", size=8),
    "body-strong": Style(fill="ink", size=8, bold=True),
    "second": Style(fill="ink-2", size=8),
    "small": Style(fill="ink-2", size=7),
    "small-ink": Style(fill="ink", size=7),
    "small-strong": Style(fill="ink", size=7, bold=True),
    "head": Style(fill="ink-2", size=6.6, bold=True),
    "tiny": Style(fill="ink-2", size=5.8),
    "dense": Style(fill="ink", size=6.3),
    "dense-strong": Style(fill="ink", size=6.3, bold=True),
    "dense-head": Style(fill="ink", size=7.6, bold=True),
    "reading": Style(fill="ink", size=9),
    "struck": Style(fill="ink-2", size=9),
    "mono": Style(fill="ink", size=7.4),
    "mono-small": Style(fill="ink-2", size=6),
    "within-said": Style(fill="within", size=8, bold=True),
    "marginal-said": Style(fill="marginal", size=8, bold=True),
    "outside-said": Style(fill="outside", size=8, bold=True),
    "unjudged-said": Style(fill="unjudged", size=8, bold=True),
    "within-bar": Style(fill="within"),
    "marginal-bar": Style(fill="marginal"),
    "outside-bar": Style(fill="outside"),
    "unjudged-bar": Style(fill="unjudged"),
}
ALL_STYLES = STYLES | PAGE_STYLES


def font_of(name: str) -> str:
    """Return the face of a text style."""
    if name in MONO_STYLES:
        return MONO
    return BOLD if ALL_STYLES[name].bold else SANS


def size_of(name: str) -> float:
    """Return the type size of a text style, in points."""
    return ALL_STYLES[name].size


def leading_of(name: str) -> float:
    """Return the distance from one base line to the next, in points."""
    return size_of(name) * (DENSE_LEADING if name in DENSE_STYLES else LEADING)
