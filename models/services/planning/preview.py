"""Whether what a card reads can be judged, by which limits, and what is missing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.criteria.rule_words import (
    correction_words,
    gate_words,
    limit_words,
    unjudged_words,
)
from models.fields import find_field
from models.judging import Rule
from models.judging.parts import Part
from models.judging.rules import applies
from models.procedures import PROCEDURES

# Bounds that compare readings of one group with each other and know no limit.
COMPARING = ("high_of_lowest", "over_lowest")


@dataclass(frozen=True, slots=True, kw_only=True)
class RulePreview:
    """What a planned card's readings would be judged by.

    *judged*: by a limit of its own; *compared*: with each other, though no limit is
    known. *missing* are the fields that the nameplate could say it with.
    """

    judged: bool
    compared: bool
    limits: Sequence[str]
    asks: Sequence[str]
    correction: str
    reasons: Sequence[str]
    missing: Sequence[str]


def preview_of(
    procedure: str,
    rule: Mapping[str, Any],
    conditions: Mapping[str, Any],
    known: Mapping[str, Any],
) -> RulePreview:
    """Return what *rule* judges under the *conditions* that the card begins with.

    *known* are the fields of the nameplates. A condition that the card leaves open
    counts as each of its values.
    """
    read = Rule.from_json(dict(rule))
    bounds = [b for b in read.bounds if _may_apply(b, conditions)]
    own = [b for b in bounds if b["kind"] not in COMPARING]
    reasons = [unjudged_words(u) for u in read.unjudged if _may_apply(u, conditions)]
    judged = bool(own)
    missing = [] if judged and not reasons else _missing(procedure, known)
    return RulePreview(
        judged=judged,
        compared=bool(bounds) and not judged,
        limits=[limit_words(bound, read) for bound in bounds],
        asks=[gate_words(gate) for gate in read.gates if _may_apply(gate, conditions)],
        correction=correction_words(read),
        reasons=reasons,
        missing=missing,
    )


def _may_apply(part: Part, conditions: Mapping[str, Any]) -> bool:
    when = part.get("when") or {}
    return applies(part, {**when, **conditions})


def _missing(procedure: str, known: Mapping[str, Any]) -> list[str]:
    """Return the nameplate's fields that are not given, as a sentence has them."""
    labels = []
    for name in PROCEDURES[procedure].rests_on:
        about = find_field(name)
        if known.get(name) is None and about is not None:
            labels.append(about.in_sentence)
    return labels
