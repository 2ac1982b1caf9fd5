"""The reader of the tablet against the core, in a real browser, words and all."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page

from models.errors import InputError
from models.judging import Outcome, check_reading, parse_value
from models.judging.quantities import UNITS, convert, said_unit, unit_name
from models.judging.rules import PROVENANCE_WORDS, PROVENANCES
from models.judging.wording import amount, figure, plain
from models.procedures import PROCEDURES
from tests.browser.reader_page import procedures_json
from tests.data.golden_cases import GOLDEN, judge_items, steps_of
from tests.data.golden_match import differences
from tests.data.golden_words import answers
from tests.data.made_up import made_up_groups
from tests.data.made_up_gas import made_up_gas
from tests.data.made_up_texts import (
    ODD_TEXTS,
    ODD_UNITS,
    SPELLINGS,
    made_up_numbers,
)
from tests.data.made_up_words import made_up_words

pytestmark = pytest.mark.browser

SEED = 20261125
DAMP = "notes: dew point near"
# Numbers that nobody measures, and that may be typed all the same.
SMALLEST = ("5e-324", "1e-322", "2.3e-308", "-0", "0")

# Answers what the module's function returns for each list of arguments, or what it
# throws; an infinite number goes as text, since JSON has none.
ANSWERS = """async (sent) => {
  const [name, calls] = JSON.parse(sent);
  const reader = await import("/offline/reader.js");
  const written = (key, value) =>
    Math.abs(value) === Infinity ? String(value) : value;
  const answer = (given) => {
    try {
      return { gives: reader[name](...given) };
    } catch (error) {
      return error.faults ? { faults: error.faults } : { error: String(error) };
    }
  };
  return JSON.stringify(calls.map(answer), written);
}"""

# Steps as JSON, where what is not finite is null; null where a reading is refused.
STEPS = """async (sent) => {
  const [groups, procedures] = JSON.parse(sent);
  const { steps } = await import("/offline/reader.js");
  const found = groups.map((items) => steps(items, procedures));
  return JSON.stringify(found.map((states) => states.map((state) => state.steps)));
}"""

JUDGED_AND_STEPS = """async (sent) => {
  const { judge, steps } = await import("/offline/reader.js");
  const found = JSON.parse(sent).map(([items, procedures]) => [
    judge(items, procedures),
    steps(items, procedures).map((state) => state.steps),
  ]);
  return JSON.stringify(found);
}"""

Ask = Callable[[str, list[list[Any]]], list[dict[str, Any]]]


@pytest.fixture(scope="module")
def ask(rule_reader: Page) -> Ask:
    def answers(name: str, calls: list[list[Any]]) -> list[dict[str, Any]]:
        if name == "judge":
            calls = [[*call, procedures_json()] for call in calls]
        given: list[dict[str, Any]] = json.loads(
            rule_reader.evaluate(ANSWERS, json.dumps([name, calls]))
        )
        return given

    return answers


@pytest.mark.parametrize("name", ["golden.json", "golden_v1.json"])
def test_reader_gives_the_golden_answers(ask: Ask, name: str) -> None:
    golden = json.loads(GOLDEN.with_name(name).read_text("utf-8"))
    answers = ask("judge", [[case["items"]] for case in golden])
    wrong = {
        case["name"]: lines
        for case, answer in zip(golden, answers, strict=True)
        if (lines := differences(answer, {"gives": case["expected"]}))
    }
    assert wrong == {}


@pytest.mark.parametrize("name", ["golden.json", "golden_v1.json"])
def test_reader_takes_the_same_steps_in_the_golden_cases(
    rule_reader: Page, name: str
) -> None:
    golden = json.loads(GOLDEN.with_name(name).read_text("utf-8"))
    groups = [case["items"] for case in golden]
    sent = json.dumps([groups, procedures_json()])
    found = json.loads(rule_reader.evaluate(STEPS, sent))
    wrong = {
        case["name"]: lines
        for case, steps in zip(golden, found, strict=True)
        if (lines := differences(steps, steps_of(case["items"])))
    }
    assert wrong == {}


def test_reader_gives_the_golden_answers_to_the_words_of_version_3(
    rule_reader: Page,
) -> None:
    golden = json.loads(GOLDEN.with_name("golden_words.json").read_text("utf-8"))
    asked = [
        [case["items"], {case["procedure"]["name"]: case["procedure"]}]
        for case in golden
    ]
    found = json.loads(rule_reader.evaluate(JUDGED_AND_STEPS, json.dumps(asked)))
    wrong = {
        case["name"]: lines
        for case, answer in zip(golden, found, strict=True)
        if (lines := differences(answer, [case["expected"], case["steps"]]))
    }
    assert wrong == {}


@pytest.mark.property
def test_reader_judges_made_up_readings_as_the_core_does(ask: Ask) -> None:
    groups = list(made_up_groups(SEED, 2500))
    wanted = [_answer(judge_items, items) for items in groups]
    answers = ask("judge", [[items] for items in groups])
    assert differences(answers, wanted) == []
    verdicts = [one["verdict"] for each in wanted for one in each.get("gives", ())]
    assert min(map(verdicts.count, ("within", "marginal", "outside", "unjudged"))) > 50


@pytest.mark.parametrize("number", SMALLEST)
def test_reader_says_the_smallest_numbers_as_the_core_does(
    ask: Ask, number: str
) -> None:
    """As the reading, as the humidity, and in a row of readings."""
    golden = json.loads(GOLDEN.read_text("utf-8"))
    items = next(c["items"] for c in golden if c["name"] == DAMP)
    humid, first, rows = (json.loads(json.dumps(items[0])) for _ in range(3))
    humid["reading"]["conditions"]["humidity_pct"] = float(number)
    first["reading"]["text"] = number
    rows["reading"]["conditions"]["timed"] = f"30:{number} 60:5 600:{number}"
    groups = [[one] for one in (humid, first, rows)]
    wanted = [_answer(judge_items, group) for group in groups]
    assert ask("judge", [[group] for group in groups]) == wanted


@pytest.mark.property
def test_reader_reads_made_up_rules_of_version_3_as_the_core_does(
    rule_reader: Page,
) -> None:
    groups = [*made_up_words(SEED, 4000), *made_up_gas(SEED, 1500)]
    asked = [[items, {one["name"]: one}] for one, items in groups]
    found = json.loads(rule_reader.evaluate(JUDGED_AND_STEPS, json.dumps(asked)))
    verdicts = []
    for (procedure, items), answer in zip(groups, found, strict=True):
        wanted = answers(procedure, items)
        both = [wanted["expected"], wanted["steps"]]
        assert differences(answer, both) == [], json.dumps(items)
        verdicts += [one["verdict"] for one in wanted["expected"]]
    assert min(map(verdicts.count, ("within", "marginal", "outside", "unjudged"))) > 100


def test_reader_parses_values_as_the_core_does(ask: Ask) -> None:
    texts = [*ODD_TEXTS, "4.2", ">200", "<0.01", "3e-4", "< .5e3", "0x10", "1e-400"]
    wanted = [_answer(_parsed, text) for text in texts]
    assert ask("parseValue", [[text] for text in texts]) == wanted


def test_reader_checks_readings_as_the_core_does(ask: Ask) -> None:
    calls = [
        (name, text, unit)
        for name in PROCEDURES
        for text in (*ODD_TEXTS, "5", ">5")
        for unit in (*ODD_UNITS, *UNITS)
    ]
    procedures = procedures_json()
    wanted = [_answer(_checked, *call) for call in calls]
    answers = ask(
        "checkReading",
        [[procedures[name], text, unit] for name, text, unit in calls],
    )
    assert answers == wanted


@pytest.mark.property
@pytest.mark.parametrize(
    ("name", "says", "more"),
    [
        ("figure", figure, []),
        ("figure", figure, [2]),
        ("plain", plain, []),
        ("amount", amount, ["MOhm"]),
        ("amount", amount, ["uOhm"]),
        ("amount", amount, ["s"]),
        ("amount", amount, [""]),
    ],
)
def test_reader_writes_numbers_as_the_core_does(
    ask: Ask, name: str, says: Callable[..., str], more: list[Any]
) -> None:
    numbers = [*map(float, SMALLEST), 9e307, *made_up_numbers(SEED, 4000)]
    wanted = [{"gives": says(number, *more)} for number in numbers]
    assert ask(name, [[number, *more] for number in numbers]) == wanted


def test_reader_knows_units_as_the_core_does(ask: Ask) -> None:
    spelled = [unit for units in SPELLINGS.values() for unit in units]
    symbols = [*UNITS, *spelled, *(unit or "" for unit in ODD_UNITS), "\x1cms\u2003"]
    assert ask("unitName", [[symbol] for symbol in symbols]) == [
        {"gives": unit_name(symbol)} for symbol in symbols
    ]
    assert ask("saidUnit", [[unit] for unit in (*UNITS, None, "", "kV")]) == [
        {"gives": said_unit(unit)} for unit in (*UNITS, None, "", "kV")
    ]


def test_reader_converts_as_the_core_does(ask: Ask) -> None:
    pairs = [[1.23456789, unit, to] for unit in UNITS for to in UNITS]
    assert ask("convert", pairs) == [_answer(convert, *pair) for pair in pairs]


@pytest.mark.parametrize(
    ("part", "message"),
    [
        ({"v": 4}, "version 4"),
        ({"cite": [{"provenance": "guess"}]}, "'guess'"),
        ({"v": 1, "notes": [{"say": "conformity"}]}, "version 1"),
        (
            {"notes": [{"say": "conformity"}, {"say": "weather"}]},
            "note 2 says 'weather'",
        ),
        ({"procedure": "guess"}, "'guess'"),
        ({"correction": {"by": "guess"}}, "'guess'"),
        ({"bounds": [{"kind": "about"}]}, "'about'"),
        ({"decision": "lenient"}, "'lenient'"),
    ],
)
def test_reader_refuses_a_rule_that_it_does_not_know(
    ask: Ask, part: dict[str, Any], message: str
) -> None:
    item = json.loads(GOLDEN.read_text("utf-8"))[0]["items"][0]
    item["rule"] |= part
    (answer,) = ask("judge", [[[item]]])
    assert answer["error"].startswith("CriteriaError: ")
    assert message in answer["error"]


def test_reader_says_every_provenance_as_the_core_does(ask: Ask) -> None:
    """Those of a checked row too, with the note that says who compared it."""
    note = "compared with edition 2023, by Otto Heron of Fathom Line Testing"
    groups = []
    for word in PROVENANCES:
        (item,) = json.loads(GOLDEN.read_text("utf-8"))[0]["items"]
        for cite in item["rule"]["cite"]:
            cite |= {"provenance": word, "note": note}
        groups.append([item])
    wanted = [{"gives": judge_items(group)} for group in groups]
    said = [line for one in wanted for line in one["gives"][0]["working"]]
    assert any(PROVENANCE_WORDS["corrected"] in line for line in said)
    assert ask("judge", [[group] for group in groups]) == wanted


@pytest.mark.parametrize(
    "settings",
    [
        {"pickup_a": 0},
        {"pickup_a": -1.0},
        {"pickup_a": 1e-300},
        {"pickup_a": 5e-324},
        {"time_dial": 0.0},
        {"time_dial": 1e308},
        {"pickup_a": 0, "time_dial": 0},
    ],
)
def test_reader_leaves_a_stored_rule_of_impossible_settings_unjudged(
    ask: Ask, settings: dict[str, Any]
) -> None:
    golden = json.loads(GOLDEN.read_text("utf-8"))
    items = next(c["items"] for c in golden if c["name"] == "relay: as calculated")
    items[0]["rule"]["bounds"][0] |= settings
    wanted = judge_items(items)
    assert wanted[0]["verdict"] == "unjudged"
    assert ask("judge", [[items]]) == [{"gives": wanted}]


def test_reader_wants_the_temperature_where_a_rule_has_no_gate(ask: Ask) -> None:
    golden = json.loads(GOLDEN.read_text("utf-8"))
    items = next(
        c["items"] for c in golden if c["name"] == "insulation: no temperature"
    )
    items[0]["rule"]["gates"] = []
    wanted = judge_items(items)
    assert wanted[0]["reason"] == "The temperature is not known."
    assert ask("judge", [[items]]) == [{"gives": wanted}]


def _answer(function: Callable[..., Any], *given: Any) -> dict[str, Any]:
    try:
        return {"gives": function(*given)}
    except InputError as error:
        faults = [{"field": f.field, "message": f.message} for f in error.faults]
        return {"faults": faults}


def _parsed(text: str) -> dict[str, Any]:
    return _value(parse_value(text))


def _value(value: Any) -> dict[str, Any]:
    if isinstance(value, Outcome):
        return {"outcome": value.value}
    return {
        "low": "-Infinity" if value.low is None else value.low,
        "high": "Infinity" if value.high is None else value.high,
    }


def _checked(name: str, text: str, unit: str | None) -> dict[str, Any]:
    value, unit_found = check_reading(PROCEDURES[name], text, unit)
    return {"value": _value(value), "unit": unit_found}
