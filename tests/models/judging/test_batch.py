"""The column-wise reader against the scalar core."""

import json
import math
import random
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import chain
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.criteria import load
from models.errors import InputError
from models.judging import Judgement, Reading, Rule
from models.judging.batch import (
    OUTCOME_CODES,
    UNIT_CODES,
    VERDICT_CODES,
    Judged,
    Readings,
    judge_columns,
)
from models.procedures import Subject, compile_rule, judge
from tests.data.columns import columns_of
from tests.data.golden_cases import GOLDEN, reading_from
from tests.data.made_up import made_up_groups
from tests.laws import costly

GOLDEN_CASES: list[dict[str, Any]] = json.loads(GOLDEN.read_text("utf-8"))
NUMBERS = ("corrected", "limit_low", "limit_high", "uncertainty")
RELATIVE = 1e-9
Group = list[Reading]


def rules_of(case: dict[str, Any]) -> list[Rule]:
    return [Rule.from_json(item["rule"]) for item in case["items"]]


SHARED = [c for c in GOLDEN_CASES if len({str(r.to_json()) for r in rules_of(c)}) == 1]


def differences(
    judged: Judged, row: int, wanted: Mapping[str, Any]
) -> list[tuple[str, Any, Any]]:
    """Return the columns in which a row is not the scalar judgement."""
    verdict = VERDICT_CODES[judged.verdict[row]]
    found = [] if verdict == wanted["verdict"] else ["verdict"]
    found += [n for n in NUMBERS if not alike(getattr(judged, n)[row], wanted[n])]
    return [(n, getattr(judged, n)[row], wanted[n]) for n in found]


def alike(number: float, wanted: float | None) -> bool:
    if wanted is None:
        return math.isnan(number)
    return math.isclose(number, wanted, rel_tol=RELATIVE)


@pytest.mark.parametrize("case", SHARED, ids=lambda case: case["name"])
def test_columns_give_the_golden_answer(case: dict[str, Any]) -> None:
    rule = rules_of(case)[0]
    readings = [reading_from(item["reading"]) for item in case["items"]]
    judged = judge_columns(rule, columns_of(rule, readings, [0] * len(readings)))
    assert [differences(judged, *each) for each in enumerate(case["expected"])] == [
        [] for _ in readings
    ]


def test_golden_cases_of_several_rules_are_the_only_ones_left_out() -> None:
    left = [case["name"] for case in GOLDEN_CASES if case not in SHARED]
    assert left == ["contact: only one pole of the group has a limit"]


def test_codes_of_verdicts_rise_with_how_bad_they_are() -> None:
    assert VERDICT_CODES == (None, "within", "unjudged", "marginal", "outside")


def disagreements(
    rule: Rule, groups: Sequence[Group]
) -> tuple[int, list[tuple[Group, Any]]]:
    """Return how many readings were compared, and the groups judged unlike."""
    wanted: list[list[Judgement]] = []
    kept: list[Group] = []
    for group in groups:
        try:
            wanted.append(judge([(rule, reading) for reading in group]))
        except InputError:  # what was typed is no reading of this procedure
            continue
        kept.append(group)
    if not kept:
        return 0, []
    numbers = [at for at, group in enumerate(kept) for _ in group]
    judged = judge_columns(rule, columns_of(rule, list(chain(*kept)), numbers))
    expected = [each.as_json() for group in wanted for each in group]
    unlike = [
        (row, differences(judged, row, each)) for row, each in enumerate(expected)
    ]
    return len(expected), [(kept[numbers[row]], said) for row, said in unlike if said]


def of_one_rule(
    made_up: Iterable[list[dict[str, Any]]],
) -> Iterable[tuple[Rule, list[Group]]]:
    """Yield each rule with its groups; a group takes the rule of its first reading."""
    sorted_by: dict[str, list[Group]] = {}
    for items in made_up:
        readings = [reading_from(item["reading"]) for item in items]
        sorted_by.setdefault(json.dumps(items[0]["rule"]), []).append(readings)
    for rule, groups in sorted_by.items():
        yield Rule.from_json(json.loads(rule)), groups


@pytest.mark.property
@costly(4, house=1)
@given(seed=st.integers(0, 2**32))
def test_made_up_readings_are_judged_as_by_the_core(seed: int) -> None:
    compared = 0
    for rule, groups in of_one_rule(made_up_groups(seed, 5000)):
        rows, unlike = disagreements(rule, groups)
        assert unlike == []
        compared += rows
    assert compared > 4000


def poles(dice: random.Random) -> Group:
    """Return a group whose values are few, so that ties and edges are usual."""
    fixed = dice.choice((0.0, 0.0, 0.1, 3.0))
    return [
        reading_from(
            {
                "key": "pole",
                "text": dice.choice(("", "", "", ">", "<"))
                + dice.choice(("0", "30", "40", "44", "45", "46", "60", "67.5")),
                "unit": "uOhm",
                "accuracy": dice.choice(
                    (None, *[{"pct": 1.0, "fixed": fixed, "unit": None}] * 3)
                ),
                "conditions": {
                    "temperature_c": dice.choice((20.0, 20.0, 20.0, -240.0, 31.5)),
                    "test_current_a": dice.choice((100.0, 200.0, 200.0, 90.0)),
                },
            }
        )
        for _ in range(dice.randint(1, 5))
    ]


@pytest.mark.property
@costly(3, house=1)
@given(seed=st.integers(0, 2**32))
def test_groups_are_compared_as_by_the_core(seed: int) -> None:
    dice = random.Random(seed)
    for subject in (Subject(), Subject(limit=50.0, limit_unit="uOhm")):
        rule = compile_rule("contact_resistance", subject, load())
        rows, unlike = disagreements(rule, [poles(dice) for _ in range(1000)])
        assert unlike == []
        assert rows > 2000


IR = compile_rule(
    "insulation_resistance", Subject(gear="metal_clad", rated_kv=15.0), load()
)
TIMING = compile_rule(
    "relay_timing",
    Subject(curve="ieee_very_inverse", pickup_a=480.0, time_dial=2.0),
    load(),
)
GOHM = np.array(UNIT_CODES.index("GOhm"))


def insulation(**columns: Any) -> Readings:
    """Return four sound readings; *columns* take the place of theirs."""
    value = np.array([4.0, 5.0, 6.0, 7.0])
    sound: dict[str, Any] = {
        "low": value,
        "high": value,
        "unit": GOHM,
        "conditions": {"temperature_c": np.array(20.0), "test_kv": np.array(5.0)},
    }
    return Readings(**(sound | columns))


def of_value(bad: float) -> dict[str, Any]:
    value = np.array([4.0, 5.0, bad, 7.0])
    return {"low": value, "high": value}


HALF = {
    "accuracy_pct": np.array([5.0, 5.0, np.nan, 5.0]),
    "accuracy_fixed": np.zeros(4),
}
REFUSED: dict[str, tuple[dict[str, Any], str]] = {
    "NaN": (of_value(np.nan), "row 2, column low"),
    "infinity": (of_value(np.inf), "row 2, column low"),
    "out of all proportion": (of_value(1e30), "row 2, column low"),
    "negative": (of_value(-1.0), "row 2, column low"),
    "low is not high": ({"high": np.array([4.0, 5.0, 6.5, 7.0])}, "row 2, column low"),
    "infinite temperature": (
        {"conditions": {"temperature_c": np.array([20.0, 20.0, -np.inf, 20.0])}},
        "row 2, column temperature_c",
    ),
    "half an accuracy": (HALF, "row 2, column accuracy_pct"),
    "negative accuracy": (
        {
            "accuracy_pct": np.array([5.0, 5.0, -5.0, 5.0]),
            "accuracy_fixed": np.zeros(4),
        },
        "row 2, column accuracy_pct",
    ),
    "unit of another quantity": (
        {"unit": np.array([GOHM, GOHM, UNIT_CODES.index("s"), GOHM])},
        "row 2, column unit",
    ),
    "no unit": ({"unit": np.array([GOHM, GOHM, 0, GOHM])}, "row 2, column unit"),
    "no such unit": ({"unit": np.array([GOHM, GOHM, 99, GOHM])}, "row 2, column unit"),
    "code that is no whole number": ({"unit": np.full(4, 6.0)}, "column unit"),
    "accuracy in another quantity": (
        {"accuracy_unit": np.array(UNIT_CODES.index("Pa"))},
        "column accuracy_unit",
    ),
    "columns of two lengths": (
        {"conditions": {"test_kv": np.full(3, 5.0)}},
        "column test_kv",
    ),
    "words": ({"conditions": {"test_kv": np.array(["5"] * 4)}}, "column test_kv"),
}


@pytest.mark.parametrize(("columns", "place"), REFUSED.values(), ids=REFUSED)
def test_what_is_no_reading_is_refused_with_its_place(
    columns: dict[str, Any], place: str
) -> None:
    with pytest.raises(InputError) as refused:
        judge_columns(IR, insulation(**columns))
    assert place in [fault.field for fault in refused.value.faults]
    assert "row 1" not in str(refused.value)


def test_number_beside_an_outcome_is_refused() -> None:
    value = np.array([5.0])
    columns = Readings(low=value, high=value, outcome=np.array([3]))
    with pytest.raises(InputError, match="row 0, column low"):
        judge_columns(TIMING, columns)


@pytest.mark.parametrize("rule", [IR, TIMING], ids=["a limit", "a curve"])
def test_an_outcome_that_a_rule_has_no_word_for_is_unjudged(rule: Rule) -> None:
    unknown = np.full(1, np.nan)
    held = Readings(
        low=unknown,
        high=unknown,
        outcome=np.full(1, OUTCOME_CODES.index("held")),
        conditions={"test_kv": np.array(5.0), "applied_a": np.array(1440.0)},
    )
    assert VERDICT_CODES[judge_columns(rule, held).verdict[0]] == "unjudged"


def test_what_is_not_known_is_never_within() -> None:
    """No conditions at all, and a temperature that is NaN."""
    unjudged = VERDICT_CODES.index("unjudged")
    bare = judge_columns(IR, insulation(conditions={}))
    assert list(bare.verdict) == [unjudged] * 4
    cold = {"temperature_c": np.array(np.nan), "test_kv": np.array(5.0)}
    judged = judge_columns(IR, insulation(conditions=cold))
    assert list(judged.verdict) == [unjudged] * 4
    assert np.isnan(judged.corrected).all()


def test_no_rows_give_no_rows() -> None:
    judged = judge_columns(IR, insulation(low=np.zeros(0), high=np.zeros(0)))
    assert [len(column) for column in judged] == [0] * 5


def test_many_rows_are_judged_as_the_same_few() -> None:
    """More rows than are worked on at once, the last part a short one."""
    few = insulation()
    many = replace(few, low=np.tile(few.low, 12_345), high=np.tile(few.high, 12_345))
    once, often = judge_columns(IR, few), judge_columns(IR, many)
    for short, long in zip(once, often, strict=True):
        assert np.array_equal(np.tile(short, 12_345), long, equal_nan=True)


def test_columns_are_not_written_to() -> None:
    columns = insulation()
    for column in columns.columns().values():
        column.flags.writeable = False
    assert list(judge_columns(IR, columns).verdict) == [4, 1, 1, 1]


@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        (5.0, "within"),
        (5.0 * (1 - 0.9e-9), "within"),
        (5.0 * (1 - 1.1e-9), "outside"),
        (5.0 * (1 + 1e-9), "within"),
    ],
)
def test_what_is_at_the_limit_counts_as_met(value: float, verdict: str) -> None:
    column = np.full(4, value)
    judged = judge_columns(IR, insulation(low=column, high=column))
    assert [VERDICT_CODES[code] for code in judged.verdict] == [verdict] * 4


def test_at_a_row_of_the_correction_the_factor_is_the_row_s() -> None:
    points = np.array(IR.correction["points"])
    value = np.full(len(points), 3.0)
    given = {"temperature_c": points[:, 0], "test_kv": np.array(5.0)}
    judged = judge_columns(IR, insulation(low=value, high=value, conditions=given))
    assert judged.corrected == pytest.approx(3000.0 * points[:, 1], rel=1e-12)


def test_over_range_is_never_as_much_as_a_maximum() -> None:
    """Infinity is near itself only."""
    rule = compile_rule("contact_resistance", Subject(limit=50.0), load())
    given = {"temperature_c": 20.0, "test_current_a": 100.0}
    texts = (">10", ">50", ">60", "<50", "<60")
    group = [Reading(key="r", text=t, unit="uOhm", conditions=given) for t in texts]
    assert disagreements(rule, [[each] for each in group] + [group]) == (10, [])


@pytest.mark.parametrize(
    ("bound", "setting"),
    [("pickup_a", 0.0), ("time_dial", None), ("pickup_a", 1e30), ("pickup_a", 1e-6)],
)
def test_rule_stored_with_an_impossible_setting_judges_nothing(
    bound: str, setting: float | None
) -> None:
    stored = TIMING.to_json()
    stored["bounds"][0][bound] = setting
    rule = Rule.from_json(stored)
    reading = Reading(key="r", text="5.9", unit="s", conditions={"applied_a": 1440.0})
    assert disagreements(rule, [[reading]]) == (1, [])
    assert judge_columns(rule, columns_of(rule, [reading], [-1])).verdict[0] == 2
