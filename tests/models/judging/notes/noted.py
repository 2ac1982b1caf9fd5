"""One note beside a verdict: what it says."""

from dataclasses import replace
from typing import Any

from models.criteria import load
from models.judging import Accuracy, Judgement, Reading, Rule
from models.judging.notes.placing import Made, placed
from models.procedures import Subject, compile_rule, judge

KV15 = Subject(gear="metal_clad", rated_kv=15.0)


def with_notes(rule: Rule, *made: Made | None) -> Rule:
    """Return the rule with these notes and no others."""
    cites = list(rule.cite)
    return replace(rule, notes=placed(cites, *made), cite=cites)


def said(
    made: Made | None,
    text: str = "6.0",
    procedure: str = "insulation_resistance",
    subject: Subject = KV15,
    accuracy: Accuracy | None = None,
    unit: str | None = "GOhm",
    **conditions: Any,
) -> list[str]:
    """Return the sentences that the note adds to the working of a reading."""
    bare = with_notes(compile_rule(procedure, subject, load()))
    reading = Reading(
        key="r", text=text, unit=unit, accuracy=accuracy, conditions=conditions
    )
    noted = _working(with_notes(bare, made), reading)
    without = _working(bare, reading)
    return noted[len(without) :]


def _working(rule: Rule, reading: Reading) -> list[str]:
    (judged,) = judge([(rule, reading)])
    return [line for line in judged.working if not line.startswith("Source: ")]


def unchanged(one: Judgement, other: Judgement) -> bool:
    """Return whether two judgements differ in nothing but words and sources."""
    return one[:8] == other[:8] and one.reason == other.reason
