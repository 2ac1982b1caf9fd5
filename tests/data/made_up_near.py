"""Readings close to those of the golden cases: of each verdict that a procedure gives.

Nameplate and conditions that are made up one by one seldom fit each other; those of a
case do.
"""

import json
import random
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

Item = dict[str, Any]
CASES = Path(__file__).with_name("golden.json")
NUMBER = re.compile(r"(?P<sign>[<>]? ?)(?P<number>-?\d+(\.\d+)?(e-?\d+)?)")


def near_a_case(source: random.Random, procedure: str) -> list[Item]:
    """Return the readings of a golden case of the procedure, a little otherwise.

    Each verdict that the procedure gives is taken as often as the others.
    """
    cases = source.choice(list(_cases()[procedure].values()))
    return [
        {"rule": item["rule"], "reading": _near(source, item["reading"])}
        for item in source.choice(cases)
    ]


def verdicts_that_occur() -> dict[str, set[str]]:
    """Return the verdicts that the golden cases have, procedure by procedure."""
    return {procedure: set(cases) for procedure, cases in _cases().items()}


@cache
def _golden() -> list[dict[str, Any]]:
    cases: list[dict[str, Any]] = json.loads(CASES.read_text("utf-8"))
    return cases


@cache
def _cases() -> Mapping[str, Mapping[str, list[list[Item]]]]:
    """Return the items of every case by procedure and verdict.

    Rules that say the same are one object.
    """
    rules: dict[str, Any] = {}
    found: dict[str, dict[str, list[list[Item]]]] = {}
    for case in _golden():
        items = [
            {**item, "rule": rules.setdefault(json.dumps(item["rule"]), item["rule"])}
            for item in case["items"]
        ]
        own = found.setdefault(items[0]["rule"]["procedure"], {})
        for verdict in sorted({judged["verdict"] for judged in case["expected"]}):
            own.setdefault(verdict, []).append(items)
    return found


def _near(source: random.Random, reading: dict[str, Any]) -> dict[str, Any]:
    conditions = {
        name: _moved(source, value)
        for name, value in reading["conditions"].items()
        if source.random() < 0.99
    }
    return {**reading, "text": _text(source, reading["text"]), "conditions": conditions}


def _text(source: random.Random, text: str) -> str:
    found = NUMBER.fullmatch(text)
    if found is None or source.random() < 0.5:
        return text
    spread = source.choice((0.999, 1.001, source.lognormvariate(0.0, 0.15)))
    return f"{found['sign']}{float(found['number']) * spread:.6g}"


def _moved(source: random.Random, value: Any) -> Any:
    """Return a number a little moved, now and then; whole ones stay whole numbers."""
    if isinstance(value, float) and source.random() < 0.05:
        return float(f"{value * source.lognormvariate(0.0, 0.1):.4g}")
    return value
