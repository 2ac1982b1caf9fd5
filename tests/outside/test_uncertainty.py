"""U, its way through the corrections, and U of a ratio, against `uncertainties`.

The package propagates standard uncertainties by its own derivatives, as JCGM
100:2008 (GUM) 5.1.2 has it; nothing of ours takes part there.
"""

import itertools
import random
from typing import Any

import pytest

from models.judging import Accuracy, Criteria, Judgement, Reading, Verdict
from models.procedures import Subject, compile_rule, judge
from tests.outside.oracles import ask

SEED = 20261127
CASES = 300
TIMES = 1.5  # the spread that is allowed within a group


@pytest.fixture
def chance() -> random.Random:
    return random.Random(SEED)


def half_width(value: float, accuracy: Accuracy) -> float:
    return accuracy.pct / 100 * value + accuracy.fixed


def some_accuracy(chance: random.Random) -> Accuracy:
    return Accuracy(round(chance.uniform(0.1, 8), 2), round(chance.uniform(0, 0.5), 3))


def insulation(
    criteria: Criteria, column: str, value: float, accuracy: Accuracy, celsius: float
) -> Judgement:
    rule = compile_rule(
        "insulation_resistance",
        Subject(gear="metal_clad", rated_kv=15.0, insulation=column),
        criteria,
    )
    reading = Reading(
        key="a",
        text=repr(value),
        unit="MOhm",
        accuracy=accuracy,
        conditions={"temperature_c": celsius, "test_kv": 2.5},
    )
    return judge([(rule, reading)])[0]


def test_u_through_the_factors_of_temperature(
    criteria: Criteria, chance: random.Random
) -> None:
    rows = criteria.table("insulation_correction_20").rows
    questions: list[dict[str, Any]] = []
    ours: list[Judgement] = []
    for _ in range(CASES):
        column = chance.choice(("solid", "oil"))
        below, above = chance.choice(list(itertools.pairwise(rows)))
        celsius = chance.uniform(below["temperature_c"], above["temperature_c"])
        value, accuracy = chance.uniform(100, 20000), some_accuracy(chance)
        ours.append(insulation(criteria, column, value, accuracy, celsius))
        questions.append(
            {
                "formula": "between",
                "reading": [value, half_width(value, accuracy)],
                "rows": [[r["temperature_c"], r[column]] for r in (below, above)],
                "celsius": celsius,
            }
        )
    same(ours, ask("oracle_uncertainty.py", questions))


@pytest.mark.parametrize("conductor", ["copper", "aluminium"])
def test_u_through_the_law_of_metals(
    criteria: Criteria, chance: random.Random, conductor: str
) -> None:
    # IEC 60028 for copper; aluminium: an article on metals' constants.
    k = {"copper": 234.5, "aluminium": 228.1}[conductor]
    rule = compile_rule(
        "contact_resistance",
        Subject(conductor=conductor, limit=60.0, limit_unit="uOhm"),
        criteria,
    )
    questions: list[dict[str, Any]] = []
    ours: list[Judgement] = []
    for _ in range(CASES):
        value, accuracy = chance.uniform(10, 120), some_accuracy(chance)
        celsius = chance.uniform(-30, 80)
        conditions = {"temperature_c": celsius, "test_current_a": 100.0}
        reading = Reading(
            key="a",
            text=repr(value),
            unit="uOhm",
            accuracy=accuracy,
            conditions=conditions,
        )
        ours.append(judge([(rule, reading)])[0])
        questions.append(
            {
                "formula": "metal",
                "reading": [value, half_width(value, accuracy)],
                "k": k,
                "celsius": celsius,
            }
        )
    same(ours, ask("oracle_uncertainty.py", questions))


def same(ours: list[Judgement], theirs: list[list[float]]) -> None:
    assert len(ours) == len(theirs)
    for judgement, (value, expanded) in zip(ours, theirs, strict=True):
        assert judgement.corrected == pytest.approx(value, rel=1e-12)
        assert judgement.uncertainty == pytest.approx(expanded, rel=1e-12)


def test_the_guard_band_of_a_ratio(criteria: Criteria, chance: random.Random) -> None:
    """Within, marginal, outside as the ratio and its U lie about 1.5."""
    rule = compile_rule("contact_resistance", Subject(conductor="copper"), criteria)
    conditions = {"temperature_c": 20.0, "test_current_a": 100.0}
    questions: list[dict[str, Any]] = []
    ours: list[Verdict] = []
    for _ in range(CASES):
        lowest, accuracy = chance.uniform(20, 60), some_accuracy(chance)
        value = lowest * chance.uniform(1.3, 1.7)
        pair = [
            (
                rule,
                Reading(
                    key=key,
                    text=repr(one),
                    unit="uOhm",
                    accuracy=accuracy,
                    conditions=conditions,
                ),
            )
            for key, one in (("low", lowest), ("high", value))
        ]
        ours.append(judge(pair)[1].verdict)
        questions.append(
            {
                "formula": "ratio",
                "reading": [value, half_width(value, accuracy)],
                "lowest": [lowest, half_width(lowest, accuracy)],
            }
        )
    theirs = ask("oracle_uncertainty.py", questions)
    assert ours == [verdict_of(ratio, expanded) for ratio, expanded in theirs]
    assert set(ours) == {Verdict.WITHIN, Verdict.MARGINAL, Verdict.OUTSIDE}


def verdict_of(ratio: float, expanded: float) -> Verdict:
    if ratio + expanded <= TIMES:
        return Verdict.WITHIN
    return Verdict.OUTSIDE if ratio - expanded > TIMES else Verdict.MARGINAL
