"""Inverse curves beside each other."""

import itertools

import pytest

from models.criteria import load
from webapp.drawing.curve_family import curve_family
from webapp.drawing.shapes import Polyline, Text

ROWS = load().table("relay_curves").rows


def test_each_inverse_curve_is_a_line_with_its_name_and_definite_time_is_none():
    drawing = curve_family(ROWS)
    assert drawing is not None
    inverse = [row for row in ROWS if row["form"] == "inverse"]
    long = [s for s in drawing.items if isinstance(s, Polyline) and len(s.points) > 9]
    words = [s.text for s in drawing.items if isinstance(s, Text)]
    assert len(long) == len(inverse) == 7
    assert {row["label"] for row in inverse} <= set(words)
    assert "Definite time" not in words


def test_names_keep_apart_and_above_the_axis():
    drawing = curve_family(ROWS)
    assert drawing is not None
    labels = {row["label"] for row in ROWS}
    places = sorted(
        s.y for s in drawing.items if isinstance(s, Text) and s.text in labels
    )
    assert all(b - a >= 14.9 for a, b in itertools.pairwise(places))


@pytest.mark.parametrize("multiple", [2.0, 10.0])
def test_the_words_give_the_time(multiple):
    """t = 80 / (M^2 - 1) by hand: 26.67 s at 2, 0.8081 s at 10."""
    drawing = curve_family([r for r in ROWS if r["curve"] == "iec_extremely_inverse"])
    assert drawing is not None
    assert {2.0: "26.67 s at 2", 10.0: "0.8081 s at 10"}[
        multiple
    ] in drawing.description


def test_without_an_inverse_curve_there_is_nothing_to_draw():
    assert curve_family([r for r in ROWS if r["form"] == "definite"]) is None
