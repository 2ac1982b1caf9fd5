"""The front elevation."""

import itertools
import xml.etree.ElementTree as ElementTree

import pytest

from tests.webapp.drawing.sample_drawings import cells, plates
from webapp.drawing import Plate, elevation, svg
from webapp.drawing.fit import text_width
from webapp.drawing.shapes import Group, Line, Rect, Text, shapes_of
from webapp.pdf.fonts import BOLD, SANS, width_of

SVG = "{http://www.w3.org/2000/svg}"


def texts(drawing):
    return [s.text for s in shapes_of(drawing.items) if isinstance(s, Text)]


@pytest.mark.parametrize("count", [1, 3, 6, 40])
def test_cells_stand_side_by_side_without_gaps(count):
    drawing = elevation(cells(count))
    frames = [
        s for s in shapes_of(drawing.items) if isinstance(s, Rect) and s.style == "cell"
    ]
    assert len(frames) == count
    for left, right in itertools.pairwise(frames):
        assert left.x + left.width == pytest.approx(right.x)
        assert left.y == right.y


def test_each_cell_has_its_number_and_name():
    found = texts(elevation(cells(3, name="Incomer A")))
    for wanted in ("1", "2", "3"):
        assert wanted in found
    assert found.count("Incomer A") == 3


def test_a_long_name_wraps_and_is_cut_only_at_the_third_line():
    found = texts(elevation(cells(1, name="Screens and chlorination north west plant")))
    assert found[:4] == ["bus 0 · 2000 A", "1", "Screens and", "chlorination"]
    assert found[4].startswith("north")


def test_a_dimension_line_for_each_run_of_a_bus():
    drawing = elevation(cells(25))
    assert [t for t in texts(drawing) if t.startswith("bus")] == [
        "bus 0 · 2000 A",
        "bus 1 · 2000 A",
        "bus 2 · 2000 A",
    ]
    lines = [
        s
        for s in shapes_of(drawing.items)
        if isinstance(s, Line) and s.style == "dimension"
    ]
    assert len(lines) == 3 * 3


def test_the_chosen_cell_is_drawn_last_with_a_heavy_frame():
    drawing = elevation(cells(5), chosen=1)
    groups = [item for item in drawing.items if isinstance(item, Group)]
    assert groups[-1].title.startswith("Cell 2,")
    assert groups[-1].items[0].style == "cell-chosen"


BARS = {"nothing": (0.0, None), "some": (0.25, "bar"), "all": (1.0, "bar-done")}


@pytest.mark.parametrize(("share", "style"), BARS.values(), ids=BARS)
def test_the_bar_shows_the_share(share, style):
    drawing = elevation(cells(1), plates=[Plate(text="x", share=share)])
    shapes = [s for s in shapes_of(drawing.items) if isinstance(s, Rect)]
    (track,) = [s for s in shapes if s.style == "track"]
    bars = [s for s in shapes if s.style.startswith("bar")]
    assert [b.style for b in bars] == ([style] if style else [])
    assert all(b.width == pytest.approx(track.width * share) for b in bars)


def test_findings_are_words_beside_their_shapes():
    found = texts(elevation(cells(4), plates=plates(4)))
    assert "2 outside" in found
    assert "1 marginal" in found


NAMES = {  # what a link shows stands in its name (WCAG 2.1, 2.5.3)
    "it has room": (
        200.0,
        "Cell 1, Bus tie: 3 of 10 cards, 2 outside, 1 marginal; circuit breaker",
    ),
    "it has none": (
        104.0,
        "1 Bus tie 3/10 car… 2 outside 1 marginal "
        "(Cell 1, Bus tie: 3 of 10 cards, 2 outside, 1 marginal; circuit breaker)",
    ),
}


@pytest.mark.parametrize(("width", "name"), NAMES.values(), ids=NAMES)
def test_a_cell_is_a_link_named_by_what_it_shows(width, name):
    drawing = elevation(
        cells(2, name="Bus tie"),
        plates=plates(2),
        hrefs=["/cells/1", "/cells/2"],
        cell_width=width,
    )
    root = ElementTree.fromstring(svg(drawing))
    first, second = root.findall(f"{SVG}a")
    assert first.attrib["href"] == "/cells/1"
    assert first.attrib["aria-label"] == name
    assert second.attrib["href"] == "/cells/2"


def test_the_description_reads_the_cells_in_order():
    said = elevation(cells(3, name="Feeder")).description
    assert said.startswith("3 cells side by side, from the left. Cell 1, Feeder")
    assert said.index("Cell 2") < said.index("Cell 3")


NAMES = ["Incomer A", "Screens and chlorination", "WAREHOUSE", "60.84 µΩ", "Łódź 12"]


@pytest.mark.parametrize("name", NAMES)
def test_the_width_taken_for_a_word_is_no_less_than_in_a_wide_face(name):
    assert text_width(name, "name") >= width_of(name, SANS, 11.0)


@pytest.mark.parametrize("verdict", ["within", "marginal", "outside", "unjudged"])
@pytest.mark.parametrize("cell_width", [104.0, 116.0])
def test_a_finding_stays_on_its_plate(verdict, cell_width):
    drawing = elevation(
        cells(1),
        plates=[Plate(text="x", share=0.5, findings=[(verdict, 12)])],
        cell_width=cell_width,
    )
    *_, plate = [
        s
        for s in shapes_of(drawing.items)
        if isinstance(s, Rect) and s.style == "plate"
    ]
    (said,) = [
        s
        for s in shapes_of(drawing.items)
        if isinstance(s, Text) and s.text == f"12 {verdict}"
    ]
    assert said.x + width_of(said.text, BOLD, 10.0) < plate.x + plate.width


def test_ratings_under_a_short_lineup_go_on_in_another_row() -> None:
    three = cells(3)
    ratings = "Rated 27 kV · 125 kV impulse · 60 kV power frequency · 25 kA 3 s"
    long = elevation(three, ratings=ratings)
    short = elevation(three, ratings="Rated 27 kV")
    rows = [
        item
        for item in long.items
        if isinstance(item, Text) and item.style == "label" and item.anchor == "start"
    ]
    assert " ".join(row.text for row in rows) == f"{ratings} · front view, not to scale"
    assert len(rows) > 1
    assert all(
        text_width(row.text, "label") <= long.width - row.x and row.y < long.height
        for row in rows
    )
    assert long.height > short.height


@pytest.mark.parametrize(
    ("cell_width", "words"),
    [(150.0, "1 of 3 signed"), (110.0, "1/3 signed"), (90.0, "1/3")],
)
def test_a_plate_says_how_far_its_cell_is_in_the_room_it_has(
    cell_width: float, words: str
) -> None:
    plate = Plate(text="1 of 3 signed", share=1 / 3)
    cell = {"number": "1", "name": "Incomer", "kind": "breaker", "bus": ""}
    drawing = elevation([cell], plates=[plate], cell_width=cell_width)
    said = [one.text for one in shapes_of(drawing.items) if isinstance(one, Text)]
    assert words in said
