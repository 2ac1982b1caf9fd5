"""The styles that shapes name: one table for the style sheet and the PDF.

Verdict hues after the Okabe-Ito palette (Okabe and Ito, Color Universal Design),
darkened until they stand 4.5:1 and more on their ground; their words until 7:1.
"""

from dataclasses import dataclass

# Names are those of the custom properties on pages; values are the paper theme's,
# which is also what a PDF is printed with.
PALETTE = {
    "page": "#f3f1ea",
    "sheet": "#fffefb",
    "rule": "#b9b3a4",
    "ink": "#14202b",
    "ink-2": "#43505c",
    "accent": "#0b3d66",
    "accent-ground": "#e3e9f0",
    "track": "#e8e4d9",
    "within": "#00674b",
    "within-ground": "#e0f0e9",
    "marginal": "#8a5a00",
    "marginal-ground": "#fbedcd",
    "outside": "#b03a00",
    "outside-ground": "#fce0d2",
    "unjudged": "#4a5560",
    "unjudged-ground": "#e8e9ec",
    "within-word": "#00523a",
    "marginal-word": "#634000",
    "outside-word": "#7f2800",
    "unjudged-word": "#3d4852",
}
VERDICTS = ("within", "marginal", "outside", "unjudged")


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """Stroke and fill by palette name; size in points makes it a text style."""

    stroke: str = ""
    width: float = 1.0
    dash: tuple[float, ...] = ()
    fill: str = ""
    size: float = 0.0
    bold: bool = False


def _verdict_styles() -> dict[str, Style]:
    styles: dict[str, Style] = {}
    for verdict in VERDICTS:
        styles[f"{verdict}-mark"] = Style(stroke=verdict, width=1.2, fill=verdict)
        styles[f"{verdict}-line"] = Style(stroke=verdict, width=1.4)
        styles[f"{verdict}-word"] = Style(fill=f"{verdict}-word", size=12.5, bold=True)
    styles["unjudged-mark"] = Style(stroke="unjudged", width=1.4, dash=(2, 1.6))
    styles["ring"] = Style(stroke="marginal", width=1.2)
    return styles


STYLES: dict[str, Style] = {
    "cell": Style(stroke="ink", width=1.2, fill="sheet"),
    "cell-chosen": Style(stroke="ink", width=2.6, fill="accent-ground"),
    "plate": Style(stroke="rule", width=0.9),
    "symbol": Style(stroke="ink", width=1.5),
    "symbol-solid": Style(stroke="ink", width=1.0, fill="ink"),
    "symbol-unknown": Style(stroke="ink-2", width=1.1, dash=(3, 2.5)),
    "floor": Style(stroke="ink", width=2.2),
    "hatch": Style(stroke="ink-2", width=0.7),
    "break": Style(stroke="ink-2", width=0.9),
    "dimension": Style(stroke="ink-2", width=0.9),
    "track": Style(fill="track"),
    "bar": Style(fill="accent"),
    "bar-done": Style(fill="within"),
    "number": Style(fill="ink", size=14, bold=True),
    "name": Style(fill="ink", size=12.5),
    "label": Style(fill="ink-2", size=12.5),
    "label-strong": Style(fill="ink", size=12.5, bold=True),
    "scale": Style(stroke="ink-2", width=0.9),
    "tick": Style(stroke="ink-2", width=0.8),
    "figure": Style(fill="ink-2", size=11.5),
    "grid": Style(stroke="rule", width=0.5),
    "grid-strong": Style(stroke="rule", width=0.9),
    "axis": Style(stroke="ink", width=1.2),
    "limit": Style(stroke="ink", width=2.6),
    "limit-line": Style(stroke="ink", width=1.4, dash=(7, 3)),
    "limit-figure": Style(fill="ink", size=11.5, bold=True),
    "permitted": Style(fill="within-ground"),
    "band": Style(fill="accent-ground"),
    "band-edge": Style(stroke="accent", width=0.5),
    "curve": Style(stroke="accent", width=1.2),
    "fitted": Style(stroke="ink", width=1.2, dash=(2, 3)),
    "series-1": Style(stroke="ink", width=1.1),
    "series-2": Style(stroke="ink", width=1.1, dash=(6, 3)),
    "series-3": Style(stroke="ink", width=1.1, dash=(1.5, 2.5)),
    "series-4": Style(stroke="accent", width=1.1),
    "series-5": Style(stroke="accent", width=1.1, dash=(6, 3)),
    "series-6": Style(stroke="accent", width=1.1, dash=(1.5, 2.5)),
    **_verdict_styles(),
}


def stylesheet() -> str:
    """Return the CSS that gives the style names their look on pages.

    Colours are custom properties, so that themes reach the drawings; the value
    after the comma serves a page that does not define them.
    """
    lines = [
        "/* Drawings: written from webapp/drawing/styles.py by its stylesheet(). */",
        ".drawing { display: block; }",
        ".drawing text { font-variant-numeric: tabular-nums; }",
        ".drawing a { cursor: pointer; }",
        ".drawing a:focus-visible { outline: 3px solid "
        f"{_colour('accent')}; outline-offset: 2px; }}",
        ".drawing a:hover .d-cell, .drawing a:focus .d-cell "
        f"{{ fill: {_colour('accent-ground')}; }}",
    ]
    lines += [f".d-{name} {{ {_css(style)} }}" for name, style in STYLES.items()]
    return "\n".join(lines) + "\n"


def _css(style: Style) -> str:
    parts = [f"fill: {_colour(style.fill) if style.fill else 'none'}"]
    if style.stroke:
        parts += [f"stroke: {_colour(style.stroke)}", f"stroke-width: {style.width:g}"]
    if style.dash:
        parts.append(f"stroke-dasharray: {' '.join(f'{d:g}' for d in style.dash)}")
    if style.size:
        parts.append(f"font-size: {style.size:g}px")
        parts.append(f"font-weight: {700 if style.bold else 400}")
    return "; ".join(parts) + ";"


def _colour(name: str) -> str:
    return f"var(--{name}, {PALETTE[name]})"
