"""What a card of the tablet shows and fills in before anything was read there."""

import json
import random
from typing import Any

import pytest
from playwright.sync_api import Page

from models.fields import fields_for_tablet
from tests.data.made_up_rules import made_up_rule

pytestmark = pytest.mark.browser
ASK = """async (sent) => {
  const { from, name, given } = JSON.parse(sent);
  const module = await import(`/static/field/${from}.js`);
  return module[name](...given);
}"""
FILLED_IN = """(sent) => import("/static/field/conditions.js")
  .then(({ setByRule }) =>
    JSON.parse(sent).flatMap((rule) => Object.keys(setByRule(rule))))"""
SPAN = """(sent) => import("/static/field/strip.js").then(({ limitStrip }) => {
  const drawn = limitStrip(JSON.parse(sent));
  const at = (style, name) => [...drawn.querySelectorAll(`.d-${style}`)]
    .map((one) => Number(one.getAttribute(name)));
  const [tint] = at("permitted", "x");
  const across = [...drawn.querySelector(".d-within-mark").points].map(({ x }) => x);
  const middle = (Math.min(...across) + Math.max(...across)) / 2;
  const end = tint + at("permitted", "width")[0];
  return { tint, end, middle, limits: at("limit", "x1") };
})"""


def asked(page: Page, of: str, name: str, *given: Any) -> Any:
    return page.evaluate(ASK, json.dumps({"from": of, "name": name, "given": given}))


def test_only_what_is_set_at_the_source_is_filled_in(rule_reader: Page) -> None:
    """How long ago, how much load, how much air: found, never supposed."""
    rules = [
        made_up_rule(random.Random(n), procedure)
        for procedure in ("insulation_resistance", "gas_moisture", "thermography")
        for n in range(9)
    ]
    wanted = {gate["on"] for r in rules for gate in r["gates"] if "at_least" in gate}
    assert wanted >= {"test_kv", "waited_h", "load_pct"}
    found = rule_reader.evaluate(FILLED_IN, json.dumps(rules))
    assert "test_kv" in found
    assert not [name for name in found if not name.startswith("test_")]


def test_an_angle_that_is_expected_stands_there(rule_reader: Page) -> None:
    bound = {"kind": "near_angle", "expected": 45.0, "within_deg": 2.0, "cite": 0}
    rule = {"unit": "deg", "correction": {"by": "none"}, "bounds": [bound]}
    rule |= {"unjudged": []}
    said = asked(rule_reader, "strip", "wanted", rule)
    assert said == "45.00 ° expected, ± 2 °"
    bound["expected"] = {"on": "not_known_yet", "times": -1}
    assert asked(rule_reader, "strip", "wanted", rule) == ""


@pytest.mark.parametrize(
    ("value", "low", "high"),
    [(-25.1, -28.2, -18.2), (-26.2, None, -5.0), (-2.0, -5.0, 5.0)],
)
def test_what_lies_below_zero_has_its_place(
    rule_reader: Page, value: float, low: float | None, high: float
) -> None:
    made = {
        "corrected": value,
        "corrected_unit": "degC",
        "limit_low": low,
        "limit_high": high,
        "uncertainty": 0.5,
        "verdict": "within",
    }
    drawn = rule_reader.evaluate(SPAN, json.dumps(made))
    assert drawn["tint"] < drawn["middle"] < drawn["end"]
    places = {*drawn["limits"], drawn["middle"]}
    assert len(places) == len(drawn["limits"]) + 1


OFFERED = """async (sent) => {
  const { offered } = await import("/static/field/carry_over.js");
  const { fields, conditions } = JSON.parse(sent);
  const asks = Object.values(fields).map((field) =>
    ({ name: field.name, field, unit: field.unit, choices: [] }));
  const point = { given: {}, rule_id: "one" };
  const about = { procedure: "p", defaults: {}, points: [point] };
  const cards = ["1", "2"].map((id) => ({ ...about, id, position: id, readings: [] }));
  cards[0].readings.push({ conditions, taken_at: "2026-03-03T09:00:00Z", by: "me" });
  const store = {
    me: "me",
    doc: {
      cards,
      procedures: { p: { asks, series: [] } },
      rules: { one: { gates: [], bounds: [] } },
      instruments: [],
    },
    instruments: new Map(),
    clock: { now: () => new Date("2026-03-03T09:10:00Z") },
    card: (id) => cards.find((one) => one.id === id),
    draft: () => ({ conditions: {} }),
  };
  return offered(store, cards[1]).map(({ name }) => name);
}"""


def test_what_is_each_tanks_own_is_taken_over_by_no_other(rule_reader: Page) -> None:
    conditions = {"first_kpa": 151.2, "waited_h": 48, "temperature_accuracy_c": 0.5}
    fields = {name: fields_for_tablet()[name] for name in conditions}
    sent = json.dumps({"fields": fields, "conditions": conditions})
    assert rule_reader.evaluate(OFFERED, sent) == ["temperature_accuracy_c"]
