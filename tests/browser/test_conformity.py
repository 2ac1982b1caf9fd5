"""The tablet's probabilities against the core's, to the printed digits and beyond."""

import json
import math
import random
from typing import Any

import pytest
from playwright.sync_api import Page

from models.judging.notes import conformity

pytestmark = pytest.mark.browser

COUNT = 20_000
ASKS = """async (sent) => {
  const [module, name, calls] = JSON.parse(sent);
  const found = await import(module);
  return JSON.stringify(calls.map((given) => found[name](...given)));
}"""


def asked(page: Page, module: str, name: str, calls: list[list[Any]]) -> list[float]:
    given: list[float] = json.loads(
        page.evaluate(ASKS, json.dumps([module, name, calls]))
    )
    return given


def test_the_error_function_is_that_of_the_library(rule_reader: Page) -> None:
    xs = [n / 500 for n in range(-3000, 13_001)]
    found = asked(rule_reader, "/offline/notes/erfc.js", "erfc", [[x] for x in xs])
    for x, got in zip(xs, found, strict=True):
        assert math.isclose(got, math.erfc(x), rel_tol=1e-12, abs_tol=1e-300), x


@pytest.mark.property
@pytest.mark.parametrize("name", ["normal", "rectangular"])
def test_probabilities_are_those_of_the_core(rule_reader: Page, name: str) -> None:
    dice = random.Random(name)
    calls = [_call(dice) for _ in range(COUNT)]
    core = getattr(conformity, name)
    found = asked(rule_reader, "/offline/notes/conformity.js", name, calls)
    for call, got in zip(calls, found, strict=True):
        assert math.isclose(got, core(*call), rel_tol=0, abs_tol=1e-12), call


def _call(dice: random.Random) -> list[float | None]:
    """Return a value, a width, and one limit or two somewhere near."""
    width = dice.lognormvariate(0.0, 2.0)
    low = dice.uniform(0.0, 100.0)
    high = low + dice.uniform(0.0, 10.0) * width
    value = dice.choice((low, high)) + width * dice.uniform(-9.0, 9.0)
    limits = dice.choice(((low, None), (None, high), (low, high)))
    return [value, width, *limits]
