"""Write golden_words.json: what every reader answers to the words of version 3.

    python -m tests.data.golden_words

Each case has its procedure beside it: {name, title, units, outcomes, signed}; its items
and answers are as in golden.json, and `steps` has the steps of each reading. Nothing is
written unless the core agrees with what was worked out by hand.
"""

import json
import sys
from itertools import chain, zip_longest
from pathlib import Path
from typing import Any

from models.judging import (
    Accuracy,
    Reading,
    Rule,
    accuracy_from,
    check_reading,
    judge_checked,
)
from models.judging.decide import decide
from models.judging.gates import with_calibration_gate
from tests.data import (
    cases_words,
    cases_words_bands,
    cases_words_compared,
    cases_words_derived,
    cases_words_gas,
    cases_words_rows,
)
from tests.data.golden_case import disagreements
from tests.data.word_case import CITE, Typed, WordCase, WordProcedure

GOLDEN = Path(__file__).with_name("golden_words.json")
CASES: tuple[WordCase, ...] = tuple(
    chain(
        cases_words.CASES,
        cases_words_bands.CASES,
        cases_words_compared.CASES,
        cases_words_derived.CASES,
        cases_words_gas.CASES,
        cases_words_rows.CASES,
    )
)


def procedure_json(procedure: WordProcedure) -> dict[str, Any]:
    """Return a made-up procedure as plain values."""
    return {
        "name": procedure.name,
        "title": procedure.title,
        "units": list(procedure.units),
        "outcomes": list(procedure.outcomes),
        "signed": procedure.signed,
    }


def rule_of(case: WordCase, typed: Typed) -> Rule:
    """Return the rule that a reading of the case is judged by."""
    units = case.procedure.units
    parts = {"unit": units[0] if units else None, **case.rule, **typed.rule}
    rule = Rule(
        procedure=case.procedure.name,
        signed=case.procedure.signed,
        cite=[CITE],
        **parts,
    )
    return with_calibration_gate(rule) if case.calibrated else rule


def items_of(case: WordCase) -> list[dict[str, Any]]:
    """Return the case's readings with their rules, as plain JSON values."""
    items = [
        {
            "rule": rule_of(case, typed).to_json(),
            "reading": {
                "key": f"r{number}",
                "text": typed.text,
                "unit": typed.unit,
                "accuracy": typed.accuracy,
                "conditions": typed.conditions,
                "conditions_accuracy": typed.conditions_accuracy,
            },
        }
        for number, typed in enumerate(case.readings, start=1)
    ]
    plain: list[dict[str, Any]] = json.loads(json.dumps(items))
    return plain


def checked_items(
    procedure: dict[str, Any], items: list[dict[str, Any]]
) -> list[tuple[Rule, Reading, Any]]:
    """Return items as the core takes them."""
    made_up = WordProcedure(**procedure)
    found = []
    for item in items:
        reading = _reading(item["reading"])
        checked = check_reading(made_up, reading.text, reading.unit)
        found.append((Rule.from_json(item["rule"]), reading, checked))
    return found


def _reading(data: dict[str, Any]) -> Reading:
    accuracies = data["conditions_accuracy"]
    return Reading(
        key=data["key"],
        text=data["text"],
        unit=data["unit"],
        accuracy=accuracy_from(data["accuracy"] or {}),
        conditions=data["conditions"],
        conditions_accuracy={name: Accuracy(**one) for name, one in accuracies.items()},
    )


def answers(
    procedure: dict[str, Any], items: list[dict[str, Any]]
) -> dict[str, list[Any]]:
    """Return the core's judgements of items, and their steps, as JSON has them."""
    checked = checked_items(procedure, items)
    found = {
        "expected": [judgement.as_json() for judgement in judge_checked(checked)],
        "steps": [[one.as_json() for one in state.steps] for state in decide(checked)],
    }
    plain: dict[str, list[Any]] = json.loads(json.dumps(found, allow_nan=False))
    return plain


def _golden(case: WordCase) -> dict[str, Any]:
    procedure, items = procedure_json(case.procedure), items_of(case)
    return {
        "name": case.name,
        "why": case.why,
        "by_hand": case.by_hand,
        "procedure": procedure,
        "items": items,
        **answers(procedure, items),
    }


def faults(golden: dict[str, Any]) -> list[str]:
    """Return where the core does not agree with what was worked out by hand."""
    pairs = zip_longest(golden["by_hand"], golden["expected"])
    return [
        f"{golden['name']}: {fault}"
        for found, judged in pairs
        for fault in disagreements(found or {"verdict": "missing"}, judged)
    ]


def main() -> int:
    """Write the file, or say where the core and the hand disagree."""
    cases = [_golden(case) for case in CASES]
    wrong = [fault for case in cases for fault in faults(case)]
    if wrong:
        sys.stderr.write("\n".join(wrong) + "\n")
        return 1
    lines = ",\n".join(json.dumps(case, ensure_ascii=False) for case in cases)
    GOLDEN.write_text(f"[\n{lines}\n]\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
