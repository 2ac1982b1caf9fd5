"""Write golden.json: what every reader of a rule answers, case by case.

    python -m tests.data.golden_cases

Nothing is written unless the core agrees with every verdict and number that was
worked out by hand.
"""

import json
import sys
from dataclasses import replace
from itertools import chain, zip_longest
from pathlib import Path
from typing import Any

from models.criteria import load
from models.judging import Reading, Rule, accuracy_from, check_reading
from models.judging.decide import decide
from models.procedures import PROCEDURES, compile_rule, judge
from tests.data import (
    cases_baseline,
    cases_breaker,
    cases_contact,
    cases_curves,
    cases_dielectric,
    cases_energized,
    cases_fuse,
    cases_gas,
    cases_given,
    cases_insulation,
    cases_joint,
    cases_mechanism,
    cases_notes,
    cases_relay,
    cases_relay_differential,
    cases_relay_elements,
    cases_relay_options,
    cases_relay_voltage,
    cases_surveys,
    cases_transformers,
    cases_vacuum,
    cases_wiring,
)
from tests.data.golden_case import Case, Given, disagreements

GOLDEN = Path(__file__).with_name("golden.json")
CASES: tuple[Case, ...] = tuple(
    chain(
        cases_insulation.CASES,
        cases_contact.CASES,
        cases_curves.CASES,
        cases_fuse.CASES,
        cases_gas.CASES,
        cases_joint.CASES,
        cases_mechanism.CASES,
        cases_baseline.CASES,
        cases_breaker.CASES,
        cases_dielectric.CASES,
        cases_energized.CASES,
        cases_vacuum.CASES,
        cases_wiring.CASES,
        cases_relay.CASES,
        cases_relay_options.CASES,
        cases_relay_differential.CASES,
        cases_relay_elements.CASES,
        cases_relay_voltage.CASES,
        cases_surveys.CASES,
        cases_given.CASES,
        cases_notes.CASES,
        cases_transformers.CASES,
    )
)


def items_of(case: Case) -> list[dict[str, Any]]:
    """Return the case's readings with their compiled rules, as plain JSON values."""
    items = [
        {"rule": _rule(case, given), "reading": _reading(f"r{number}", given)}
        for number, given in enumerate(case.readings, start=1)
    ]
    plain: list[dict[str, Any]] = json.loads(json.dumps(items))
    return plain


def judge_items(
    items: list[dict[str, Any]], *, working: bool = True
) -> list[dict[str, Any]]:
    """Return the core's judgements of items as JSON has them."""
    pairs = [
        (Rule.from_json(item["rule"]), reading_from(item["reading"])) for item in items
    ]
    judged: list[dict[str, Any]] = json.loads(
        json.dumps([judgement.as_json() for judgement in judge(pairs, working=working)])
    )
    return judged


def steps_of(items: list[dict[str, Any]]) -> list[list[dict[str, Any]]]:
    """Return the steps to the core's judgements of items as JSON has them."""
    pairs = [
        (Rule.from_json(item["rule"]), reading_from(item["reading"])) for item in items
    ]
    checked = [
        (
            rule,
            reading,
            check_reading(PROCEDURES[rule.procedure], reading.text, reading.unit),
        )
        for rule, reading in pairs
    ]
    found = [[step.as_json() for step in state.steps] for state in decide(checked)]
    plain: list[list[dict[str, Any]]] = json.loads(json.dumps(found))
    return plain


def reading_from(data: dict[str, Any]) -> Reading:
    """Return a reading from its JSON."""
    return Reading(
        key=data["key"],
        text=data["text"],
        unit=data["unit"],
        accuracy=accuracy_from(data["accuracy"] or {}),
        conditions=data["conditions"],
    )


def _rule(case: Case, given: Given) -> dict[str, Any]:
    subject = given.subject or case.subject
    rule = compile_rule(case.procedure, subject, load())
    return replace(rule, decision=case.decision).to_json()


def _reading(key: str, given: Given) -> dict[str, Any]:
    return {
        "key": key,
        "text": given.text,
        "unit": given.unit,
        "accuracy": given.accuracy,
        "conditions": given.conditions,
    }


def _golden(case: Case) -> dict[str, Any]:
    items = items_of(case)
    golden: dict[str, Any] = {"name": case.name}
    if case.by_hand:
        golden |= {"why": case.why, "by_hand": case.by_hand}
    return {**golden, "items": items, "expected": judge_items(items)}


def _faults(golden: dict[str, Any]) -> list[str]:
    pairs = zip_longest(golden.get("by_hand", ()), golden["expected"])
    return [
        f"{golden['name']}: {fault}"
        for found, judged in pairs
        if found is not None
        for fault in disagreements(found, judged)
    ]


def main() -> int:
    """Write the file, or say where the core and the hand disagree."""
    cases = [_golden(case) for case in CASES]
    faults = [fault for case in cases for fault in _faults(case)]
    if faults:
        sys.stderr.write("\n".join(faults) + "\n")
        return 1
    lines = ",\n".join(json.dumps(case, ensure_ascii=False) for case in cases)
    GOLDEN.write_text(f"[\n{lines}\n]\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
