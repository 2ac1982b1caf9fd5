"""The tablet's reader in Chromium: one judgement with and without words, its size."""

import json
from collections.abc import Mapping
from typing import Any

from tests.bench.measure import Measured
from tests.browser.chromium import chromium
from tests.browser.reader_page import procedures_json, reader_page
from tests.data.golden_cases import GOLDEN
from tests.webapp.offline.module_text import code_of, module_text

CASE = "insulation: U is corrected too, within"
ALL_CASES = "a golden case, on the average"
TURNS = 41  # the median of them is taken
JUDGEMENTS = 1_000  # a turn, since a browser's clock is coarse
BUDGET_S = 1e-3
BUDGET_BYTES = 20_000

# Seconds a judgement, the median of the turns, with words and without.
TIMED = """async ([groups, procedures, turns, judgements]) => {
  const { judge, steps } = await import("/offline/reader.js");
  const many = groups.reduce((sum, items) => sum + items.length, 0);
  const rounds = Math.ceil(judgements / many);
  const median = (work) => {
    const taken = [];
    for (let turn = 0; turn < turns; turn += 1) {
      const start = performance.now();
      for (let round = 0; round < rounds; round += 1) groups.forEach(work);
      taken.push((performance.now() - start) / 1000 / rounds / many);
    }
    return taken.toSorted((a, b) => a - b)[Math.floor(turns / 2)];
  };
  return {
    words: median((items) => judge(items, procedures)),
    numbers: median((items) => steps(items, procedures)),
  };
}"""


def run() -> list[Measured]:
    """Judge one reading, and all golden cases, in the browser."""
    golden = json.loads(GOLDEN.read_text("utf-8"))
    one = [case["items"] for case in golden if case["name"] == CASE]
    every = [case["items"] for case in golden]
    with chromium() as browser, reader_page(browser) as page:
        timed = {
            what: page.evaluate(TIMED, [groups, procedures_json(), TURNS, JUDGEMENTS])
            for what, groups in (("one judgement", one), (ALL_CASES, every))
        }
    size = len(code_of(module_text("judge.js")).encode())
    lines = [line for what, found in timed.items() for line in _lines(what, found)]
    return [
        *lines,
        Measured(
            bench="js",
            what=f"judge.js, {size} bytes",
            ratio=size / BUDGET_BYTES,
            against=f"{BUDGET_BYTES} bytes of code",
        ),
    ]


def _lines(what: str, found: Mapping[str, Any]) -> list[Measured]:
    return [
        Measured(
            bench="js",
            what=f"{what}, {kind}",
            seconds=found[kind],
            ratio=found[kind] / BUDGET_S,
            against="1 ms",
        )
        for kind in ("numbers", "words")
    ]
