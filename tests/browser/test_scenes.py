"""Drawings made twice, in Python for paper and in the browser: one geometry."""

import json
from dataclasses import asdict
from typing import Any

import pytest
from playwright.sync_api import Page

from models.judging.series import SERIES
from tests.data.scenes import (
    SCENES,
    Places,
    curve_places,
    elevation_places,
    rule_of_curve,
    series_places,
    strip_places,
)
from webapp.drawing.figures import shown_amount

pytestmark = pytest.mark.browser

ABSOLUTE = 1e-9  # of the scale
ROUNDED = 5e-4  # of the scale: the browser's places are rounded to a tenth of a pixel

STRIP = """async (sent) => {
  const { limitStrip } = await import("/static/field/strip.js");
  const { judgement, text, among } = JSON.parse(sent);
  const drawing = limitStrip(judgement, text, among);
  const numbers = (node, ...names) =>
    names.map((name) => Number(node.getAttribute(name)));
  const all = (selector) => [...drawing.querySelectorAll(selector)];
  const [start, end] = numbers(drawing.querySelector(".d-scale"), "x1", "x2");
  const share = (x) => (x - start) / (end - start);
  const mark = drawing.querySelector(`.d-${judgement.verdict}-mark`);
  const corners = mark.getAttribute("points").split(" ");
  const xs = corners.map((pair) => Number(pair.split(",")[0]));
  const whiskers = /^[<>]/.test(text) ? [] : all(`line.d-${judgement.verdict}-line`);
  const [x, width] = numbers(drawing.querySelector(".d-permitted"), "x", "width");
  return {
    limits: all(".d-limit").map((line) => share(numbers(line, "x1")[0])),
    mark: [share(xs.reduce((sum, one) => sum + one) / xs.length)],
    u: whiskers
      .map((line) => numbers(line, "x1", "x2", "y1", "y2"))
      .filter(([, , y1, y2]) => y1 === y2)
      .flatMap(([x1, x2]) => [share(x1), share(x2)]),
    permitted: [share(x), share(x + width)],
  };
}"""


@pytest.mark.parametrize("scene", SCENES["strips"], ids=lambda scene: scene["name"])
def test_a_limit_strip_lies_alike_on_paper_and_on_the_tablet(
    rule_reader: Page, scene: dict[str, Any]
) -> None:
    found: Places = rule_reader.evaluate(STRIP, json.dumps(scene))
    wanted = strip_places(scene)
    assert found.keys() == wanted.keys()
    for what, places in wanted.items():
        assert found[what] == pytest.approx(places, abs=ABSOLUTE), what


SERIES_CURVE = """async (sent) => {
  const { seriesCurve } = await import("/static/field/series_curve.js");
  const { readText } = await import("/static/field/series.js");
  const { kind, row, unit } = JSON.parse(sent);
  const lines = { marks: {}, band: null };
  const drawing = seriesCurve(kind, readText(row, kind), unit, [], lines);
  const points = drawing.querySelector("polyline.d-axis").getAttribute("points");
  const [[left, top], [, bottom], [right]] = points
    .split(" ")
    .map((pair) => pair.split(",").map(Number));
  const marks = [...drawing.querySelectorAll("circle")];
  const at = (mark, name) => Number(mark.getAttribute(name));
  return {
    across: marks.map((mark) => (at(mark, "cx") - left) / (right - left)),
    up: marks.map((mark) => (bottom - at(mark, "cy")) / (bottom - top)),
  };
}"""


@pytest.mark.parametrize("scene", SCENES["series"], ids=lambda scene: scene["name"])
def test_a_row_of_readings_lies_alike(rule_reader: Page, scene: dict[str, Any]) -> None:
    sent = {**scene, "kind": asdict(SERIES[scene["kind"]])}
    found: Places = rule_reader.evaluate(SERIES_CURVE, json.dumps(sent))
    for what, places in series_places(scene).items():
        assert found[what] == pytest.approx(places, abs=ROUNDED), what


CURVE = """async (sent) => {
  const { timeCurrent } = await import("/static/field/curve.js");
  const { rule, timed } = JSON.parse(sent);
  const points = timed.map(([applied_a, text, verdict]) => ({
    label: "", text, unit: "s", applied_a, verdict,
  }));
  const [drawing] = timeCurrent(rule, points);
  const at = (node, name) => Number(node.getAttribute(name));
  const pickup = drawing.querySelector(".d-limit-line");
  const [bottom, top] = [at(pickup, "y1"), at(pickup, "y2")];
  const across = [...drawing.querySelectorAll("line")].find(
    (line) => at(line, "y1") === at(line, "y2"),
  );
  const [left, right] = [at(across, "x1"), at(across, "x2")];
  const [wide, tall] = [right - left, bottom - top];
  const share = ([x, y]) => [(x - left) / wide, (bottom - y) / tall];
  const places = (line) =>
    line.getAttribute("points").split(" ").flatMap((pair) => share(pair.split(",")));
  const [earliest, latest] = drawing.querySelectorAll(".d-band-edge");
  return {
    pickup: [share([at(pickup, "x1"), bottom])[0]],
    curve: places(drawing.querySelector(".d-curve")),
    earliest: places(earliest),
    latest: places(latest),
  };
}"""


@pytest.mark.parametrize("scene", SCENES["curves"], ids=lambda scene: scene["name"])
def test_a_time_current_curve_lies_alike(
    rule_reader: Page, scene: dict[str, Any]
) -> None:
    sent = {"rule": rule_of_curve(scene), "timed": scene["timed"]}
    found: Places = rule_reader.evaluate(CURVE, json.dumps(sent))
    for what, places in curve_places(scene).items():
        assert found[what] == pytest.approx(places, abs=ROUNDED), what


ELEVATION = """async (sent) => {
  const { elevation } = await import("/static/field/elevation.js");
  const { cells, plates, chosen } = JSON.parse(sent);
  const named = cells.map(([number, name, kind, bus], at) => ({
    id: `cell ${at}`, number, name, kind, bus,
  }));
  const plate = ([text, share, findings]) => ({ text, share, findings });
  const drawing = elevation(
    { lineup: { name: "", ratings: "" }, symbols: {}, cells: named },
    new Map(plates.map((one, at) => [`cell ${at}`, plate(one)])),
    chosen === null ? null : `cell ${chosen}`,
    () => "#",
  );
  const all = (selector) => [...drawing.querySelectorAll(selector)];
  const at = (node, name) => Number(node.getAttribute(name));
  const boxes = all("rect.d-cell, rect.d-cell-chosen");
  const left = Math.min(...boxes.map((box) => at(box, "x")));
  const wide = at(boxes[0], "width");
  const share = (x) => (x - left) / wide;
  const bars = all("rect.d-bar, rect.d-bar-done");
  const track = at(all("rect.d-track")[0], "width");
  return {
    cells: boxes.map((box) => share(at(box, "x"))),
    chosen: all("rect.d-cell-chosen").map((box) => share(at(box, "x"))),
    buses: all("line.d-dimension")
      .filter((line) => at(line, "y1") === at(line, "y2"))
      .flatMap((line) => [share(at(line, "x1")), share(at(line, "x2"))]),
    bars: bars.map((bar) => at(bar, "width") / track),
    done: bars.map((bar) => bar.getAttribute("class").replace("d-", "")),
    words: all("text:not(.d-label)").map((text) => text.textContent),
  };
}"""


@pytest.mark.parametrize("scene", SCENES["elevations"], ids=lambda scene: scene["name"])
def test_a_front_elevation_lies_alike(rule_reader: Page, scene: dict[str, Any]) -> None:
    found = rule_reader.evaluate(ELEVATION, json.dumps(scene))
    for what, places in elevation_places(scene).items():
        wanted = pytest.approx(places, abs=ROUNDED) if what in NUMBERS else places
        assert found[what] == wanted, what


NUMBERS = {"cells", "chosen", "buses", "bars"}  # of an elevation; the rest are words


SHOWN = """async (values) => {
  const { shownAmount } = await import("/static/field/shown_amount.js");
  return values.map(([value, unit]) => shownAmount(value, unit));
}"""


def test_a_value_is_said_alike_on_paper_and_on_the_tablet(rule_reader: Page) -> None:
    values = [
        *((value, "Pa") for value in (6e-4, 2.14e-4, 9.96e-3, 0.0, 0.1, 0.25, -3e-5)),
        *((4200.0, "MOhm"), (38.6, "uOhm"), (3.1, "s")),
    ]
    found = rule_reader.evaluate(SHOWN, [list(value) for value in values])
    assert found == [shown_amount(*value) for value in values]
    assert found[:3] == ["6.0 × 10⁻⁴ Pa", "2.1 × 10⁻⁴ Pa", "1.0 × 10⁻² Pa"]
