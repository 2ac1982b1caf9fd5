"""The lines as a tablet holds them."""

from collections.abc import Iterable, Mapping
from functools import cache

from models.criteria.safety.line import NotedField, RuleSet, SafetyLine
from models.criteria.safety.loader import books
from models.criteria.safety.shapes import BookField, BookLine


def book_lines(codes: Iterable[str]) -> dict[str, BookLine]:
    """Return the lines of these codes, in the order of the files; to read only."""
    wanted = set(codes)
    return {code: line for code, line in _all_lines().items() if code in wanted}


@cache
def _all_lines() -> dict[str, BookLine]:
    return {code: _line(line) for code, line in books().lines.items()}


def _line(line: SafetyLine) -> BookLine:
    cautions = [c.key for c in books().cautions.values() if line.code in c.lines]
    return {
        "text": line.text,
        "scope": line.scope,
        "each": list(line.each),
        "fields": list(line.noted),
        "lapses": list(line.lapses),
        "when": dict(line.when),
        "suspends": dict(line.suspends),
        "never_waived": line.never_waived,
        "source": line.sources.said,
        "shown": [one.text for one in books().shown if line.code in one.lines],
        "caution": next(iter(cautions), None),
    }


@cache
def book_fields() -> dict[str, BookField]:
    """Return every field that lines and registers note, by name; to read only."""
    return {name: _field(one) for name, one in books().fields.items()}


def _field(one: NotedField) -> BookField:
    return {
        "label": one.label,
        "unit": one.unit,
        "kind": one.kind,
        "choices": list(one.choices),
        "required": one.required,
    }


def registers() -> dict[str, list[str]]:
    """Return the fields that an item of each register has."""
    return {name: list(names) for name, names in books().registers.items()}


def cautions() -> dict[str, str]:
    """Return the text of each caution by its key."""
    return {key: one.text for key, one in books().cautions.items()}


def changes() -> dict[str, str]:
    """Return each change word with what it says to a person."""
    return dict(books().changes)


def governs() -> str:
    """Return the sentence of whose rules govern."""
    return books().governs


def rule_sets() -> Mapping[str, RuleSet]:
    """Return the rule sets that a site chooses among, by code."""
    return books().rule_sets
