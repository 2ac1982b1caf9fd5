"""The style sheet is the table's, and its colours can be told from the paper."""

from pathlib import Path

import pytest

import webapp
from webapp.drawing.styles import PALETTE, STYLES, VERDICTS, stylesheet

SHEET = Path(webapp.__file__).parent / "static" / "drawing.css"


def test_the_sheet_served_is_the_one_written_from_the_table():
    assert SHEET.read_text() == stylesheet()


def contrast(one, other):
    """Return the contrast ratio of WCAG 2.2 (its definition of it)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def luminance(colour):
    """Return the relative luminance of WCAG 2.2."""
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    linear = [
        p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_the_formula_against_its_published_ends():
    # WCAG 2.2: black on white is 21:1, a colour on itself 1:1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#777777") == pytest.approx(1)


@pytest.mark.parametrize("name", ["ink", "ink-2"])
@pytest.mark.parametrize("ground", ["page", "sheet"])
def test_text_stands_seven_to_one(name, ground):
    assert contrast(PALETTE[name], PALETTE[ground]) >= 7


@pytest.mark.parametrize("verdict", VERDICTS)
def test_verdicts_stand_out_on_their_grounds(verdict):
    for ground in ("sheet", f"{verdict}-ground"):
        assert contrast(PALETTE[verdict], PALETTE[ground]) >= 4.5


@pytest.mark.parametrize("verdict", VERDICTS)
def test_the_words_of_verdicts_stand_seven_to_one(verdict):
    for ground in ("page", "sheet", "accent-ground", f"{verdict}-ground"):
        assert contrast(PALETTE[f"{verdict}-word"], PALETTE[ground]) >= 7


def test_every_style_names_colours_of_the_palette():
    for style in STYLES.values():
        for name in (style.stroke, style.fill):
            assert name == "" or name in PALETTE
