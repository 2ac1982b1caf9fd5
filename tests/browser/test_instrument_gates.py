"""An instrument that proves nothing, on the tablet: the gates that the server adds."""

import json

import pytest
from playwright.sync_api import Page

from models.judging import Rule, with_calibration_gate
from models.judging.gates import with_instrument_gate
from tests.browser.reader_page import procedures_json
from tests.data.golden_cases import GOLDEN, judge_items

pytestmark = pytest.mark.browser

GATED = """async (sent) => {
  const [groups, conditions, procedures] = JSON.parse(sent);
  const { judge, withInstrumentGates } = await import("/offline/reader.js");
  const found = groups.map((items) => {
    const gated = items.map(({ rule, reading }) => ({
      rule: withInstrumentGates(withInstrumentGates(rule)),
      reading: { ...reading, conditions: { ...reading.conditions, ...conditions } },
    }));
    return judge(gated, procedures);
  });
  return JSON.stringify(found);
}"""
CASES: dict[str, tuple[str, str]] = {
    "in date": ("in_date", "none"),
    "lapsed": ("lapsed", "none"),
    "no instrument": ("none", "none"),
    "another supply": ("in_date", "supply"),
    "beyond its level": ("in_date", "level"),
    "beyond its range, and lapsed": ("lapsed", "reading"),
}


@pytest.mark.parametrize(("calibration", "limit"), CASES.values(), ids=CASES)
def test_the_tablet_withholds_the_verdict_as_the_server_does(
    rule_reader: Page, calibration: str, limit: str
) -> None:
    golden = json.loads(GOLDEN.read_text("utf-8"))
    groups = [case["items"] for case in golden]
    given = {"instrument_limit": limit, "calibration": calibration}
    sent = json.dumps([groups, given, procedures_json()])
    found = json.loads(rule_reader.evaluate(GATED, sent))
    for items in groups:
        for item in items:
            bare = Rule.from_json(item["rule"])
            rule = with_calibration_gate(with_instrument_gate(bare))
            item["rule"] = json.loads(json.dumps(rule.to_json()))
            item["reading"]["conditions"] |= given
    wanted = [judge_items(items) for items in groups]
    verdicts = [one["verdict"] for group in wanted for one in group]
    proves = (calibration, limit) == ("in_date", "none")
    assert ("within" in verdicts, "outside" in verdicts) == (proves, True)
    assert [[o["verdict"] for o in g] for g in found] == [
        [o["verdict"] for o in g] for g in wanted
    ]
    assert [[(o["reason"], o["working"]) for o in g] for g in found] == [
        [(o["reason"], o["working"]) for o in g] for g in wanted
    ]
