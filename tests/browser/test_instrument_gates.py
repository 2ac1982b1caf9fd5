"""An instrument that proves nothing, on the tablet: the gates that the server adds."""

import json
from typing import Any, cast

import pytest
from playwright.sync_api import Page

from models.judging import Rule, accuracy_from, with_calibration_gate
from models.judging.gates import with_instrument_gate
from models.procedures import PROCEDURES
from models.record.instrument import (
    NAMES_SUPPLY,
    accuracy_of,
    beyond,
    supply_of,
    why_not,
)
from models.services.field.round_document import procedures_json as sent_procedures
from models.words import say
from tests.browser.reader_page import procedures_json
from tests.data.golden_cases import GOLDEN, judge_items
from tests.models.record.test_instrument import CASES as ABLE

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


ASKED = """async (sent) => {
  const { beyond, accuracyOf, whyNot } = await import("/static/field/instruments.js");
  const [cases, procedures] = JSON.parse(sent);
  const found = cases.map(([ranges, name, conditions, text]) => {
    const reading = { text, unit: "GOhm" };
    const { asks } = procedures[name];
    return [
      beyond(ranges, asks, conditions, text === null ? {} : reading) ?? null,
      accuracyOf(ranges, "GOhm", conditions),
      whyNot({ procedures: [name], ranges }, name, procedures[name], conditions)
        ?? null,
    ];
  });
  return JSON.stringify(found);
}"""


def test_the_tablet_knows_what_is_beyond_an_instrument_as_the_server_does(
    rule_reader: Page,
) -> None:
    cases = [
        (ranges, name, conditions, reading)
        for ranges, conditions, reading, _ in ABLE.values()
        for name in ("insulation_resistance", "dielectric_withstand", "relay_timing")
    ]
    sent = [
        ([o.as_json() for o in r], name, c, None if v is None else str(v))
        for r, name, c, v in cases
    ]
    found = json.loads(
        rule_reader.evaluate(ASKED, json.dumps([sent, asked_procedures()]))
    )
    for (ranges, name, conditions, reading), (limit, accuracy, why) in zip(
        cases, found, strict=True
    ):
        procedure = PROCEDURES[name]
        own = {ask["name"]: ask for ask in procedure.asks}
        known = {n: v for n, v in conditions.items() if n in own or n in NAMES_SUPPLY}
        assert limit == beyond(ranges, known, reading, "GOhm")
        stated = accuracy_of(ranges, "GOhm", supply_of(known))
        assert accuracy_from(accuracy or {}) == accuracy_from(stated)
        words = why_not(
            ranges,
            [name],
            procedure=name,
            units=procedure.units,
            outcomes=tuple(procedure.outcomes),
            conditions=known,
        )
        assert (why and say(why)) == words


def asked_procedures() -> dict[str, Any]:
    return cast(dict[str, Any], json.loads(json.dumps(sent_procedures())))
