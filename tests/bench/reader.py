"""The tablet's reader in Chromium: one judgement with and without words, its size."""

import json
from collections.abc import Mapping, Sequence
from typing import Any

from playwright.sync_api import Page

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
CURVE = "ct_excitation: a C class"
SLOWED = 4  # times: a tablet is that much slower than this machine
SEEN_S = 0.1  # what is typed is answered at once
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

# Seconds of the first judgement of a page, and the median of those after it; a digit of
# the curve changes each time, as where it is typed.
FIRST = """async ([items, procedures, turns]) => {
  const { judge } = await import("/offline/reader.js");
  const { conditions } = items[0].reading;
  const taken = Array.from({ length: turns }, (_, turn) => {
    conditions.excitation = conditions.excitation.replace(/.$/, String(turn % 9));
    const start = performance.now();
    judge(items, procedures);
    return (performance.now() - start) / 1000;
  });
  const later = taken.slice(1).toSorted((a, b) => a - b);
  return [taken[0], later[Math.floor(later.length / 2)]];
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
    with chromium() as browser, reader_page(browser) as page:
        lines_of_curve = _curve(page, golden)
    size = len(code_of(module_text("judge.js")).encode())
    lines = [line for what, found in timed.items() for line in _lines(what, found)]
    return [
        *lines,
        *lines_of_curve,
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


def _curve(page: Page, golden: Sequence[Mapping[str, Any]]) -> list[Measured]:
    """Judge an excitation curve of 22 pairs where Chromium is slowed."""
    slow = page.context.new_cdp_session(page)
    slow.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    (items,) = (case["items"] for case in golden if case["name"] == CURVE)
    taken = page.evaluate(FIRST, [items, procedures_json(), TURNS])
    return [
        Measured(
            bench="js",
            what=f"an excitation curve, {SLOWED} times slowed, {which}",
            seconds=seconds,
            ratio=seconds / SEEN_S,
            against="100 ms",
        )
        for which, seconds in zip(("first", "after it"), taken, strict=True)
    ]
