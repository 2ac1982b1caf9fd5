"""What holds for every drawing: well-formed, without style, inside its edges."""

import re
import xml.etree.ElementTree as ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.webapp.drawing.sample_drawings import cells, sample_drawings
from webapp.drawing import elevation, svg
from webapp.drawing.shapes import Circle, HalfDisc, Line, Polyline, Rect, shapes_of
from webapp.drawing.styles import STYLES, stylesheet
from webapp.pdf.fonts import BOLD, SANS, width_of

DRAWINGS = sample_drawings()
SVG = "{http://www.w3.org/2000/svg}"
SHAPES = {"line", "rect", "polyline", "polygon", "circle", "path", "text"}
FRAMES = {"svg", "title", "desc", "g", "a"}
every = pytest.mark.parametrize("drawing", DRAWINGS.values(), ids=DRAWINGS)


def test_no_sample_was_left_out():
    assert len(DRAWINGS) == 23


@every
def test_it_is_well_formed_and_carries_no_style_or_script(drawing):
    root = ElementTree.fromstring(svg(drawing))
    assert root.tag == f"{SVG}svg"
    for element in root.iter():
        assert element.tag.removeprefix(SVG) in SHAPES | FRAMES
        assert "style" not in element.attrib
        assert not [name for name in element.attrib if name.startswith("on")]


@every
def test_each_class_has_a_rule_in_the_style_sheet(drawing):
    sheet = stylesheet()
    classes = set(re.findall(r'class="(d-[a-z0-9-]+)"', svg(drawing)))
    assert classes
    for name in classes:
        assert f".{name} {{" in sheet


@every
def test_it_is_named_and_described_for_who_cannot_see_it(drawing):
    root = ElementTree.fromstring(svg(drawing))
    title, description = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert description is not None
    assert title.text == root.attrib["aria-label"] == drawing.title
    assert description.text
    assert root.attrib["role"] == ("group" if root.find(f".//{SVG}a") else "img")


@every
def test_shapes_lie_inside_the_drawing(drawing):
    for x, y in _corners(drawing):
        assert -0.01 <= x <= drawing.width + 0.01
        assert -0.01 <= y <= drawing.height + 0.01


@every
def test_words_lie_inside_the_drawing(drawing):
    for shape in shapes_of(drawing.items):
        if not hasattr(shape, "anchor"):
            continue
        style = STYLES[shape.style]
        wide = width_of(shape.text, BOLD if style.bold else SANS, style.size)
        before = {"start": 0.0, "middle": wide / 2, "end": wide}[shape.anchor]
        assert shape.x - before >= -0.5, shape
        assert shape.x - before + wide <= drawing.width + 0.5, shape
        assert style.size * 0.7 <= shape.y <= drawing.height, shape


def _corners(drawing):
    for shape in shapes_of(drawing.items):
        match shape:
            case Line(x1, y1, x2, y2):
                yield from ((x1, y1), (x2, y2))
            case Rect(x, y, width, height):
                yield from ((x, y), (x + width, y + height))
            case Circle(x, y, r) | HalfDisc(x, y, r):
                yield from ((x - r, y - r), (x + r, y + r))
            case Polyline(points):
                yield from points


@pytest.mark.property
@given(st.text(max_size=40), st.text(max_size=12))
def test_whatever_people_type_stays_text(name, bus):
    drawing = elevation(
        [{"number": name, "name": name, "kind": name, "bus": bus}], hrefs=[f"/{name}"]
    )
    root = ElementTree.fromstring(svg(drawing))
    (link,) = root.findall(f"{SVG}a")
    assert {e.tag.removeprefix(SVG) for e in link} <= SHAPES


def test_markup_in_a_name_is_escaped():
    drawn = svg(elevation(cells(1, name='<script>"&')))
    assert "<script>" not in drawn
    assert "&lt;script&gt;" in drawn
