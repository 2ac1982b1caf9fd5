"""What two rules ask differently of one reading, in words."""

from collections.abc import Iterator, Mapping
from typing import Any

from models.criteria.rule_words import (
    correction_words,
    gate_words,
    limit_words,
    unjudged_words,
)
from models.judging import Rule
from models.judging.parts import Part
from models.judging.rules import applies, cite_words
from models.judging.wording import plain


def differences(
    old: Rule, new: Rule, conditions: Mapping[str, Any]
) -> tuple[list[str], list[str]]:
    """Return what *old* alone asks of a reading, and what *new* alone does.

    Both name their source. Where they ask the same in other words (a source, a
    correction) that is said; both are empty where nothing of it concerns a
    reading under these *conditions*.
    """
    was, now = list(_asks(old, conditions)), list(_asks(new, conditions))
    return [w for w in was if w not in now], [n for n in now if n not in was]


def _asks(rule: Rule, conditions: Mapping[str, Any]) -> Iterator[str]:
    sources = [cite_words(c).removeprefix("Source: ").rstrip(".") for c in rule.cite]

    def source(part: Part) -> str:
        cite = part.get("cite")
        return "" if cite is None else f" ({sources[cite]})"

    for bound in rule.bounds:
        if applies(bound, conditions):
            yield f"{limit_words(bound, rule)}{source(bound)}"
    for gate in rule.gates:
        if applies(gate, conditions):
            yield gate_words(gate)
    for reason in rule.unjudged:
        if applies(reason, conditions):
            yield unjudged_words(reason)
    correction = correction_words(rule)
    if "k" in rule.correction:
        correction += f", zero resistance at -{plain(rule.correction['k'])} °C"
    if correction:
        yield f"{correction}{source(rule.correction)}"
