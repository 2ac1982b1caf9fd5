"""The joined script does what the single modules do, in a real browser."""

import json

import pytest
from playwright.sync_api import Page

from tests.browser.reader_page import procedures_json
from tests.data.golden_cases import GOLDEN
from webapp.field.joining.program import FOOT
from webapp.field.program import ENTRIES, make_program

pytestmark = pytest.mark.browser

# Exports of every module: names, and what they are. Kinds alone of objects that are of
# this page, such as channels.
ALIKE = """async (addresses) => {
  const said = (one) => typeof one === "function" ? one.name : JSON.stringify(one);
  const shown = (given) => JSON.stringify(Object.keys(given).toSorted()
    .map((name) => [name, typeof given[name], said(given[name])]));
  const found = [];
  for (const address of addresses) {
    found.push([address, shown(await import(address)), shown(needed(address))]);
  }
  return found;
}"""
GOLDEN_ALIKE = """async (sent) => {
  const [groups, procedures] = JSON.parse(sent);
  const { judge, steps } = await import("/offline/reader.js");
  const joined = needed("/offline/reader.js");
  const answer = (work) => {
    try {
      return JSON.stringify(work());
    } catch (error) {
      return JSON.stringify(error.faults ?? String(error));
    }
  };
  return groups.map((items) => [
    answer(() => [judge(items, procedures), steps(items, procedures)]),
    answer(() => [joined.judge(items, procedures), joined.steps(items, procedures)]),
  ]);
}"""


@pytest.fixture(scope="module")
def both(rule_reader: Page) -> Page:
    """A page with the single modules, and `needed(address)` of the joined script."""
    made = make_program()
    script = made.texts[made.script]
    assert script.endswith(FOOT)
    given = "};\nwindow.needed = $need;\n})();"
    rule_reader.evaluate(script.removesuffix(FOOT) + given)
    return rule_reader


def test_every_module_exports_the_same(both: Page) -> None:
    made = make_program()
    # The entries begin to work once they are run.
    modules = [one for one in sorted(made.inside - {*ENTRIES}) if one.endswith(".js")]
    found = both.evaluate(ALIKE, modules)
    assert len(found) > 150
    assert [one for one in found if one[1] != one[2]] == []


def test_the_golden_cases_have_the_same_answers(both: Page) -> None:
    golden = json.loads(GOLDEN.read_text("utf-8"))
    groups = [case["items"] for case in golden]
    found = both.evaluate(GOLDEN_ALIKE, json.dumps([groups, procedures_json()]))
    assert len(found) > 100
    assert [singly for singly, joined in found if singly != joined] == []
