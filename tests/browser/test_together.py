"""Cards that answer one question together: the tablet says what the core says."""

import json
from dataclasses import asdict
from typing import Any

import pytest
from playwright.sync_api import Page

from models.procedures.questions import questions
from models.record.together import together
from models.services.field.together import questions_json
from tests.data.together_cases import CASES, RULES

pytestmark = pytest.mark.browser

SAY = """async (sent) => {
  const { together } = await import("/offline/reader.js");
  return JSON.stringify(JSON.parse(sent).map((given) => together(...given)));
}"""


def test_both_readers_say_the_same(rule_reader: Page) -> None:
    shown = [["Class", "C400"]]
    sent: list[list[Any]] = [
        [
            questions_json()[case.question],
            [[card, [asdict(g) for g in gives]] for card, gives in case.members],
            case.known,
            shown,
            RULES,
        ]
        for case in CASES.values()
    ]
    said = json.loads(rule_reader.evaluate(SAY, json.dumps(sent)))
    core = [
        together(questions()[case.question], case.members, case.known, shown, RULES)
        for case in CASES.values()
    ]
    assert said == json.loads(json.dumps(core))
