"""Rules of version 3 on the tablet: the worked numbers, and every new word on its own.

The numbers are worked out without the program: of `over_lowest`, `odd_share`,
`of_baseline` and `error_pct` they are those of the design reference of the programme,
section 6.10.
"""

import json
from collections.abc import Mapping, Sequence
from typing import Any

import pytest
from playwright.sync_api import Page

pytestmark = pytest.mark.browser

TIME = {"title": "A time", "units": ["ms", "s"], "outcomes": []}
COPPER = {"title": "A path", "units": ["uOhm"], "outcomes": []}
SIGNED = {"title": "An error", "units": ["uOhm"], "outcomes": [], "signed": True}
CHECK = {"title": "A check", "units": ["s"], "outcomes": ["held"]}
STEPS = """async (sent) => {
  const [items, procedures] = JSON.parse(sent);
  const { steps } = await import("/offline/reader.js");
  const found = steps(items, procedures);
  return JSON.stringify(found.map(({ verdict, steps }) => ({ verdict, steps })));
}"""

Found = list[dict[str, Any]]


def rule(unit: str | None, *bounds: Mapping[str, Any], **parts: Any) -> dict[str, Any]:
    """Return a rule of version 3 with these bounds."""
    return {
        "v": 3,
        "procedure": "one",
        "unit": unit,
        "signed": False,
        "gates": [],
        "derive": [],
        "correction": {"by": "none"},
        "bounds": list(bounds),
        "unjudged": [],
        "decision": "guarded",
        "notes": [],
        "cite": [],
        **parts,
    }


def reading(
    text: str, unit: str | None, pct: float | None = None, **more: Any
) -> dict[str, Any]:
    """Return a reading; *pct* is the accuracy in percent of it."""
    accuracy = None if pct is None else {"pct": pct, "fixed": 0.0, "unit": None}
    return {"text": text, "unit": unit, "accuracy": accuracy, "conditions": {}, **more}


def judged(
    page: Page,
    procedure: Mapping[str, Any],
    of: Mapping[str, Any],
    *readings: Mapping[str, Any],
) -> Found:
    items = [{"rule": of, "reading": one} for one in readings]
    found: Found = json.loads(
        page.evaluate(STEPS, json.dumps([items, {"one": procedure}]))
    )
    return found


def verdicts(found: Sequence[Mapping[str, Any]]) -> list[str]:
    return [one["verdict"] for one in found]


def step(found: Mapping[str, Any], code: str) -> dict[str, Any]:
    """Return the step of this code."""
    (one,) = (step for step in found["steps"] if step["code"] == code)
    return dict(one)


def test_a_difference_to_the_lowest(rule_reader: Page) -> None:
    exact = {"pct": 0.0, "fixed": 0.1, "unit": "ms"}
    texts = ("30.0", "31.7", "31.9", "32.1", "32.3")
    readings = [reading(text, "ms", accuracy=exact) for text in texts]
    found = judged(
        rule_reader, TIME, rule("s", {"kind": "over_lowest", "by": 0.002}), *readings
    )
    assert verdicts(found) == ["within", "within", "marginal", "marginal", "outside"]
    assert step(found[1], "over_lowest")["guard"] == pytest.approx(0.1633e-3, rel=1e-4)
    assert step(found[0], "is_lowest")["high"] == pytest.approx(0.032)


def test_a_lone_difference_is_judged_by_another_bound(rule_reader: Page) -> None:
    spread, latest = {"kind": "over_lowest", "by": 0.002}, {"kind": "high", "value": 1}
    alone = judged(rule_reader, TIME, rule("s", spread), reading("30", "ms"))
    assert verdicts(alone) == ["unjudged"]
    assert step(alone[0], "alone")["verdict"] == "unjudged"
    both = judged(rule_reader, TIME, rule("s", spread, latest), reading("30", "ms"))
    assert verdicts(both) == ["within"]
    assert step(both[0], "alone")["verdict"] is None


def test_the_lowest_may_be_the_odd_one(rule_reader: Page) -> None:
    bound = {"kind": "high_of_lowest", "times": 1.15, "odd_share": 0.5}
    readings = [reading(text, "uOhm") for text in ("20500",) * 5 + ("7200",)]
    found = judged(rule_reader, COPPER, rule("uOhm", bound), *readings)
    assert verdicts(found) == ["outside"] * 5 + ["within"]
    odd = step(found[0], "odd_lowest")
    assert (odd["above"], odd["members"]) == (5, 6)
    few = judged(rule_reader, COPPER, rule("uOhm", bound), *readings[3:])
    assert [s["code"] for s in few[0]["steps"]].count("odd_lowest") == 1  # two of three
    one = judged(rule_reader, COPPER, rule("uOhm", bound), *readings[4:], readings[5])
    assert [s["code"] for s in one[0]["steps"]].count("odd_lowest") == 0  # one of three


def test_a_ratio_to_the_baseline(rule_reader: Page) -> None:
    u = 36.0 * 0.02 * 2 / 3**0.5
    bound = {
        "kind": "of_baseline",
        "value": 36.0,
        "u": u,
        "low_times": 0.8,
        "high_times": 1.2,
    }
    texts = ("41.0", "43.0", "46.0", "28.0", "27.0")
    readings = [reading(text, "uOhm", 2.0) for text in texts]
    found = judged(rule_reader, COPPER, rule("uOhm", bound), *readings)
    assert verdicts(found) == ["within", "marginal", "outside", "marginal", "outside"]
    most = step(found[0], "most_of_baseline")
    assert most["ratio"] == pytest.approx(1.1389, rel=1e-4)
    assert most["guard"] == pytest.approx(0.037196, rel=1e-4)
    assert most["high"] == pytest.approx(43.2)


def test_an_error_in_percent(rule_reader: Page) -> None:
    derive = {"name": "error", "op": "error_pct", "of": "reading", "expected": 120}
    bound = {"kind": "near", "of": "error", "expected": 0, "fixed": 0.5}
    of = rule("uOhm", bound, derive=[derive])
    readings = [reading(text, "uOhm") for text in ("119.4", "119.3", "120.6", "120.7")]
    found = judged(rule_reader, COPPER, of, *readings)
    assert verdicts(found) == ["within", "outside", "within", "outside"]
    assert step(found[0], "derived")["value"] == pytest.approx(-0.5)


# 100 at 5 A, in each way of saying it.
EXPECTED: dict[str, Any] = {
    "a number": 100.0,
    "a multiple of a condition": {"on": "injected_a", "times": 2, "plus": 90},
    "a line": {"on": "injected_a", "points": [[0, 0], [4, 80], [6, 120]]},
}


@pytest.mark.parametrize("name", EXPECTED)
def test_near_what_is_expected(rule_reader: Page, name: str) -> None:
    bound = {"kind": "near", "expected": EXPECTED[name], "pct": 5, "fixed": 1}
    texts = ("94.9", "95", "105", "105.1", ">200", ">90")
    readings = [reading(t, "uOhm", conditions={"injected_a": 5.0}) for t in texts]
    found = judged(rule_reader, COPPER, rule("uOhm", bound), *readings)
    wanted = ["outside", "within", "within", "outside", "outside", "unjudged"]
    assert verdicts(found) == wanted
    assert step(found[0], "expected_value")["within"] == pytest.approx(5.0)


@pytest.mark.parametrize("amperes", [None, 7.0])
def test_what_is_expected_is_not_known(
    rule_reader: Page, amperes: float | None
) -> None:
    line = {"on": "injected_a", "points": [[0, 0], [6, 120]]}
    bound = {"kind": "near", "expected": line, "pct": 5}
    given = {} if amperes is None else {"injected_a": amperes}
    found = judged(
        rule_reader, COPPER, rule("uOhm", bound), reading("1", "uOhm", conditions=given)
    )
    assert verdicts(found) == ["unjudged"]
    step(found[0], "no_expected")


def test_a_quotient_carries_the_uncertainty_of_both(rule_reader: Page) -> None:
    derive = {
        "name": "z",
        "op": "over",
        "of": "reading",
        "by": {"on": "injected_a"},
        "unit": "Ohm",
    }
    of = rule("uOhm", {"kind": "high", "of": "z", "value": 0.5}, derive=[derive])
    accuracy = {"injected_a": {"pct": 3.0, "fixed": 0.0, "unit": None}}
    readings = [
        reading(
            text, "uOhm", 4.0, conditions={"injected_a": 5.0}, conditions_accuracy=known
        )
        for text, known in (("2.4", accuracy), ("2.4", {}), ("2.2", accuracy))
    ]
    found = judged(rule_reader, COPPER, of, *readings)
    # Half-widths of 4 % and 3 % are 5 % of the quotient together: U = 10 % / sqrt(3).
    assert step(found[0], "derived")["expanded"] == pytest.approx(0.48 * 0.1 / 3**0.5)
    assert step(found[1], "derived")["expanded"] == pytest.approx(0.48 * 0.08 / 3**0.5)
    assert verdicts(found) == ["marginal", "marginal", "within"]


def test_a_gate_on_what_was_derived(rule_reader: Page) -> None:
    derive = {"name": "z", "op": "over", "of": "reading", "by": {"on": "injected_a"}}
    gate = {"on": "z", "at_most": 1.0, "unit": "", "reason": "Too much."}
    of = rule("uOhm", {"kind": "low", "value": 1}, derive=[derive], gates=[gate])
    given = ({"injected_a": 5.0}, {"injected_a": 1.0}, {"injected_a": 0.0}, {})
    readings = [reading("4", "uOhm", conditions=conditions) for conditions in given]
    found = judged(rule_reader, COPPER, of, *readings)
    assert verdicts(found) == ["within", "unjudged", "unjudged", "unjudged"]
    codes = [[s["code"] for s in one["steps"]] for one in found]
    assert codes[0] == ["derived", "corrected", "minimum"]
    assert codes[1] == ["derived", "corrected", "gate"]
    assert codes[2] == codes[3] == ["not_derived", "corrected"], "said once"


# Gate, conditions, whether it opens.
GATES: dict[str, tuple[dict[str, Any], dict[str, Any], bool]] = {
    "at most, below": ({"on": "v", "at_most": 260}, {"v": 259.0}, True),
    "at most, at it": ({"on": "v", "at_most": 260}, {"v": 260}, True),
    "at most, above": ({"on": "v", "at_most": 260}, {"v": 260.1}, False),
    "at most, not given": ({"on": "v", "at_most": 260}, {}, False),
    "one of, the first": ({"on": "m", "one_of": ["vlf", "dc"]}, {"m": "vlf"}, True),
    "one of, another": ({"on": "m", "one_of": ["vlf", "dc"]}, {"m": "ac"}, False),
    "one of, not given": ({"on": "m", "one_of": ["vlf", "dc"]}, {}, False),
    "known": ({"on": "m", "known": True}, {"m": "ac"}, True),
    "known, not given": ({"on": "m", "known": True}, {}, False),
}


@pytest.mark.parametrize("name", GATES)
def test_gates(rule_reader: Page, name: str) -> None:
    gate, conditions, opens = GATES[name]
    of = rule(
        "uOhm",
        {"kind": "high", "value": 5},
        gates=[{"unit": "", "reason": "Not so.", **gate}],
    )
    found = judged(rule_reader, COPPER, of, reading("4", "uOhm", conditions=conditions))
    assert verdicts(found) == ["within" if opens else "unjudged"]


@pytest.mark.parametrize(
    ("text", "calibration", "verdict"),
    [
        ("4", "in_date", "within"),
        ("4", "lapsed", "unjudged"),
        ("4", "none", "unjudged"),
        ("4", None, "unjudged"),
        ("6", "in_date", "outside"),
        ("6", "lapsed", "outside"),
    ],
)
def test_an_instrument_out_of_calibration(
    rule_reader: Page, text: str, calibration: str | None, verdict: str
) -> None:
    """The verdict is withheld; what is outside stays so."""
    gate = {"on": "calibration", "one_of": ["in_date"], "reasons": {}, "last": True}
    of = rule("uOhm", {"kind": "high", "value": 5}, gates=[gate])
    given = {} if calibration is None else {"calibration": calibration}
    found = judged(rule_reader, COPPER, of, reading(text, "uOhm", conditions=given))
    assert verdicts(found) == [verdict]
    assert step(found[0], "maximum")["high"] == 5


OUTCOMES = {"held": "within", "no_trip": "outside", "broke_down": "outside"}


@pytest.mark.parametrize("text", OUTCOMES)
def test_an_expected_outcome(rule_reader: Page, text: str) -> None:
    bound = {"kind": "expected", "met": ["held"], "missed": ["no_trip"]}
    procedure = {**CHECK, "outcomes": list(OUTCOMES), "units": []}
    found = judged(rule_reader, procedure, rule(None, bound), reading(text, None))
    assert verdicts(found) == [OUTCOMES[text]]


@pytest.mark.parametrize(
    ("met", "missed", "verdict"),
    [
        (["operated"], ["no_trip"], "within"),
        (["blocked"], ["operated"], "outside"),
        (["blocked"], [], "unjudged"),
    ],
)
def test_a_number_is_something_that_operated(
    rule_reader: Page, met: list[str], missed: list[str], verdict: str
) -> None:
    bound = {"kind": "expected", "met": met, "missed": missed}
    found = judged(rule_reader, CHECK, rule("s", bound), reading("0.3", "s"))
    assert verdicts(found) == [verdict]


def test_a_signed_quantity_may_be_negative(rule_reader: Page) -> None:
    bounds = ({"kind": "low", "value": -0.5}, {"kind": "high", "value": 0.5})
    of = rule("uOhm", *bounds, signed=True)
    texts = ("-0.5", "-0.51", "0.5", "<-1", "<-0.2", ">0.1")
    readings = [reading(text, "uOhm") for text in texts]
    found = judged(rule_reader, SIGNED, of, *readings)
    assert verdicts(found) == [
        "within",
        "outside",
        "within",
        "outside",
        "unjudged",
        "unjudged",
    ]


def test_a_withstand_above_the_rated_level(rule_reader: Page) -> None:
    bound = {
        "kind": "withstand",
        "level_kv": 45.0,
        "hold_s": 60.0,
        "over_pct": 5.0,
        "rated_kv": 60.0,
    }
    procedure = {**CHECK, "units": []}
    given = ({"test_kv": kv, "duration_s": 60} for kv in (45, 47.3, 60, 60.1, 90, 44))
    readings = [reading("held", None, conditions=one) for one in given]
    found = judged(rule_reader, procedure, rule(None, bound), *readings)
    assert verdicts(found) == [
        "within",
        "marginal",
        "marginal",
        "outside",
        "outside",
        "unjudged",
    ]
