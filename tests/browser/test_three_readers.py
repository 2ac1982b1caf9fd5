"""Three readers of one rule: scalar Python, numpy columns, JavaScript in Chromium.

Made-up rules with made-up readings, some alike at every run and some fresh; a failure
says the seed. The two readers that give steps give the same ones. To see it fail: turn
a comparison round in any of the three.
"""

import json
import math
import secrets
from collections import Counter
from collections.abc import Sequence
from functools import cache
from itertools import chain
from typing import Any, NamedTuple

import pytest
from playwright.sync_api import Page

from models.errors import InputError
from models.judging import Reading, Rule, check_reading
from models.judging.batch import VERDICT_CODES, Judged, judge_columns
from models.judging.decide import decide
from models.judging.reading_check import Checked
from models.procedures import PROCEDURES, judge
from tests.browser.reader_page import procedures_json
from tests.data.columns import columns_of
from tests.data.golden_cases import reading_from
from tests.data.made_up import made_up_groups
from tests.data.made_up_near import verdicts_that_occur
from tests.laws import THOROUGH

pytestmark = [pytest.mark.browser, pytest.mark.property]

SEED = 20261126
GROUPS = 48_000 if THOROUGH else 18_000
PAIRS = 20_000  # of a rule and a reading; what is judged at the least
FRESH_GROUPS = 12_000 if THOROUGH else 4_000
FEWEST = 10  # of every version; of every verdict that a procedure gives
RELATIVE = 1e-9
NUMBERS = ("corrected", "limit_low", "limit_high", "uncertainty")
COLUMNS = ("verdict", *NUMBERS)

# Rules are sent once, all as one text: that is many times as fast as value by value. A
# group that is no reading of its procedure is answered null. A step is its verdict, its
# code and its numbers by name; what is not finite is null.
IN_CHROMIUM = """async (sent) => {
  const [rules, groups, columns, procedures] = JSON.parse(sent);
  const { InputError, judge, steps } = await import("/offline/reader.js");
  const shortened = ({ verdict, code, part, ...numbers }) => [
    verdict,
    code,
    ...Object.keys(numbers)
      .filter((name) => name !== "band")
      .sort()
      .map((name) => [name, numbers[name]]),
  ];
  const answer = (group) => {
    const items = group.map(([rule, reading]) => ({ rule: rules[rule], reading }));
    try {
      const judged = judge(items, procedures);
      const states = steps(items, procedures);
      return judged.map((judgement, at) => [
        ...columns.map((name) => judgement[name]),
        states[at].steps.map(shortened),
      ]);
    } catch (error) {
      if (error instanceof InputError) return null;
      throw error;
    }
  };
  return JSON.stringify(groups.map(answer));
}"""

Row = Sequence[Any]  # what COLUMNS name, and the steps
Group = list[dict[str, Any]]


class Answers(NamedTuple):
    """Judgements of the groups that two readers judged, in their order."""

    groups: list[Group]
    rows: list[list[Row]]


def test_three_readers_judge_alike(rule_reader: Page) -> None:
    compared = compare(rule_reader, SEED, GROUPS)
    assert len(compared) >= PAIRS
    found = Counter((i["rule"]["procedure"], row[0]) for i, row in compared)
    wanted = verdicts_that_occur()
    assert wanted.keys() == PROCEDURES.keys()
    few = {
        (procedure, verdict): found[procedure, verdict]
        for procedure, verdicts in wanted.items()
        for verdict in verdicts
        if found[procedure, verdict] < FEWEST
    }
    assert few == {}
    versions = [item["rule"]["v"] for item, _ in compared]
    assert min(map(versions.count, (1, 2))) >= FEWEST


def test_three_readers_judge_alike_what_was_never_seen_before(
    rule_reader: Page,
) -> None:
    compare(rule_reader, secrets.randbits(32), FRESH_GROUPS)


def compare(page: Page, seed: int, count: int) -> list[tuple[dict[str, Any], Row]]:
    """Let three readers judge; return each item with its scalar judgement."""
    groups = list(made_up_groups(seed, count))
    scalar = [_scalar(group) for group in groups]
    chromium = _in_chromium(page, groups)
    told = [
        f"JavaScript, seed {seed}: {said}"
        for group, wanted, got in zip(groups, scalar, chromium, strict=True)
        for said in _differences(group, wanted, got)
    ]
    assert told[:3] == []
    judged = Answers(*map(list, zip(*_judged(groups, scalar), strict=True)))
    told = [f"columns, seed {seed}: {said}" for said in _columns_differ(judged)]
    assert told[:3] == []
    return [
        pair
        for group, rows in zip(*judged, strict=True)
        for pair in zip(group, rows, strict=True)
    ]


def _judged(
    groups: Sequence[Group], answers: Sequence[list[Row] | None]
) -> list[tuple[Group, list[Row]]]:
    """Return the groups of one rule with their judgements: what columns can hold."""
    return [
        (group, rows)
        for group, rows in zip(groups, answers, strict=True)
        if rows is not None and len({id(item["rule"]) for item in group}) == 1
    ]


def _scalar(group: Group) -> list[Row] | None:
    pairs = [(_rule(item), reading_from(item["reading"])) for item in group]
    try:
        judged = judge(pairs, working=False)
    except InputError:  # what was typed is no reading of this procedure
        return None
    states = decide([(*pair, _checked(*pair)) for pair in pairs])
    return [
        (
            one.verdict.value,
            *(getattr(one, name) for name in NUMBERS),
            [_shortened(step.as_json()) for step in state.steps],
        )
        for one, state in zip(judged, states, strict=True)
    ]


def _checked(rule: Rule, reading: Reading) -> Checked:
    return check_reading(PROCEDURES[rule.procedure], reading.text, reading.unit)


def _shortened(step: dict[str, Any]) -> list[Any]:
    named = sorted(step.keys() - {"verdict", "code", "part", "band"})
    return [step["verdict"], step["code"], *([name, step[name]] for name in named)]


def _rule(item: dict[str, Any]) -> Rule:
    return _rule_of(json.dumps(item["rule"]))


@cache
def _rule_of(text: str) -> Rule:
    return Rule.from_json(json.loads(text))


def _in_chromium(page: Page, groups: Sequence[Group]) -> list[list[Row] | None]:
    rules = {id(i["rule"]): i["rule"] for group in groups for i in group}
    places = {key: place for place, key in enumerate(rules)}
    sent = [[(places[id(i["rule"])], i["reading"]) for i in group] for group in groups]
    asked = [list(rules.values()), sent, COLUMNS, procedures_json()]
    given: list[list[Row] | None] = json.loads(
        page.evaluate(IN_CHROMIUM, json.dumps(asked))
    )
    return given


def _columns_differ(judged: Answers) -> list[str]:
    """Judge all groups of each rule in columns; return where that is otherwise."""
    by_rule: dict[int, list[int]] = {}
    for place, group in enumerate(judged.groups):
        by_rule.setdefault(id(group[0]["rule"]), []).append(place)
    told: list[str] = []
    for places in by_rule.values():
        groups = [judged.groups[place] for place in places]
        rows = [row[:-1] for place in places for row in judged.rows[place]]
        readings = [reading_from(i["reading"]) for group in groups for i in group]
        numbers = [number for number, group in enumerate(groups) for _ in group]
        got = _column_rows(_rule(groups[0][0]), readings, numbers)
        told += _differences(list(chain(*groups)), rows, got)
    return told


def _column_rows(rule: Rule, readings: list[Reading], numbers: list[int]) -> list[Row]:
    judged: Judged = judge_columns(rule, columns_of(rule, readings, numbers))
    columns = [getattr(judged, name).tolist() for name in NUMBERS]
    return [
        (VERDICT_CODES[verdict], *(None if math.isnan(n) else n for n in row))
        for verdict, *row in zip(judged.verdict.tolist(), *columns, strict=True)
    ]


def _differences(
    group: Group, wanted: list[Row] | None, got: list[Row] | None
) -> list[str]:
    """Return in words where two readers differ; None: refused."""
    if wanted is None or got is None:
        same = wanted is got
        return [] if same else [f"{got} instead of {wanted} for {json.dumps(group)}"]
    return [
        f"{_named(other)} instead of {_named(one)} for {json.dumps(item)}"
        for item, one, other in zip(group, wanted, got, strict=True)
        if not _alike(list(one), list(other))
    ]


def _named(row: Row) -> dict[str, Any]:
    return dict(zip((*COLUMNS, "steps"), row, strict=False))


def _alike(wanted: Any, got: Any) -> bool:
    if isinstance(wanted, list) and isinstance(got, list):
        return len(wanted) == len(got) and all(map(_alike, wanted, got))
    if isinstance(wanted, int | float) and isinstance(got, int | float):
        return math.isclose(got, wanted, rel_tol=RELATIVE)
    return bool(wanted == got)
