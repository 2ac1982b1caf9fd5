"""Drawings made twice, in Python for paper and in the browser: one geometry."""

import json
from typing import Any

import pytest
from playwright.sync_api import Page

from tests.data.scenes import SCENES, Places, strip_places

pytestmark = pytest.mark.browser

ABSOLUTE = 1e-9  # of the scale

STRIP = """async (sent) => {
  const { limitStrip } = await import("/static/field/strip.js");
  const { judgement, text } = JSON.parse(sent);
  const drawing = limitStrip(judgement, text);
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
