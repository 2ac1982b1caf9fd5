"""An instrument out of calibration on the tablet: the gate that the server adds."""

import json

import pytest
from playwright.sync_api import Page

from models.judging import Rule, with_calibration_gate
from tests.browser.reader_page import procedures_json
from tests.data.golden_cases import GOLDEN, judge_items

pytestmark = pytest.mark.browser

GATED = """async (sent) => {
  const [groups, calibration, procedures] = JSON.parse(sent);
  const { judge, withCalibrationGate } = await import("/offline/reader.js");
  const found = groups.map((items) => {
    const gated = items.map(({ rule, reading }) => ({
      rule: withCalibrationGate(withCalibrationGate(rule)),
      reading: { ...reading, conditions: { ...reading.conditions, calibration } },
    }));
    return judge(gated, procedures);
  });
  return JSON.stringify(found);
}"""


@pytest.mark.parametrize("calibration", ["in_date", "lapsed", "none"])
def test_the_tablet_withholds_the_verdict_as_the_server_does(
    rule_reader: Page, calibration: str
) -> None:
    golden = json.loads(GOLDEN.read_text("utf-8"))
    groups = [case["items"] for case in golden]
    sent = json.dumps([groups, calibration, procedures_json()])
    found = json.loads(rule_reader.evaluate(GATED, sent))
    for items in groups:
        for item in items:
            rule = with_calibration_gate(Rule.from_json(item["rule"]))
            item["rule"] = json.loads(json.dumps(rule.to_json()))
            item["reading"]["conditions"]["calibration"] = calibration
    wanted = [judge_items(items) for items in groups]
    verdicts = [one["verdict"] for group in wanted for one in group]
    within = calibration == "in_date"
    assert ("within" in verdicts, "outside" in verdicts) == (within, True)
    assert [[o["verdict"] for o in g] for g in found] == [
        [o["verdict"] for o in g] for g in wanted
    ]
    assert [[(o["reason"], o["working"]) for o in g] for g in found] == [
        [(o["reason"], o["working"]) for o in g] for g in wanted
    ]
