"""What would be required here: the rules that a gear and a rating compile to."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from models.criteria.loader import load, table_files
from models.criteria.rule_words import (
    correction_words,
    gate_words,
    limit_words,
    unjudged_words,
)
from models.criteria.table_file import SUBJECTS
from models.errors import Fault, InputError
from models.fields import check_value
from models.judging import Criteria, Rule
from models.judging.parts import Part
from models.judging.rules import cite_words
from models.procedures import PROCEDURES, Subject, compile_rule


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where a limit comes from: in words, and the key of its table where it has one."""

    words: str
    provenance: str
    key: str | None


# What is observed is compared with no figure.
OBSERVED = Source(words="observed, not measured", provenance="practice", key=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One limit in words, with its source."""

    text: str
    source: Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Requirement:
    """What one procedure asks of this apparatus.

    *conditions* are those without which nothing is judged, *missing* the reasons
    for which it cannot be judged from what is known here; *sources* are all that
    the rule cites, the correction's too.
    """

    procedure: str
    title: str
    limits: Sequence[Limit]
    conditions: Sequence[str]
    correction: str
    missing: Sequence[str]
    sources: Sequence[Source]
    rule: Rule


def required(
    gear: str, rated_kv: float, apparatus: str, criteria: Criteria | None = None
) -> list[Requirement]:
    """Return what each procedure would ask of an *apparatus* in gear of *rated_kv*.

    Compiled from gear and rated maximum voltage (kV) alone: a nameplate, a maker's
    limit or a relay's setting is added by a round. *criteria* are the tables as
    shipped, unless others are given. Raises InputError for a gear, a
    rating or an apparatus that cannot be.
    """
    faults = list(_faults(gear, rated_kv, apparatus))
    if faults:
        raise InputError(*faults)
    subject = Subject(gear=gear, rated_kv=rated_kv)
    return [
        _requirement(name, compile_rule(name, subject, criteria or load()))
        for name, procedure in PROCEDURES.items()
        if apparatus in procedure.apparatus and gear in procedure.gears
    ]


def _faults(gear: str, rated_kv: float, apparatus: str) -> Iterator[Fault]:
    for name, value in (("gear", gear), ("rated_kv", rated_kv)):
        try:
            check_value(name, value)
        except InputError as error:
            yield from error.faults
    if apparatus not in SUBJECTS:
        known = ", ".join(SUBJECTS)
        yield Fault(field="apparatus", message=f"'{apparatus}' is none of {known}.")


def _requirement(name: str, rule: Rule) -> Requirement:
    sources = [source_of(cite) for cite in rule.cite]
    return Requirement(
        procedure=name,
        title=PROCEDURES[name].title,
        limits=tuple(
            Limit(
                text=limit_words(bound, rule),
                source=sources[bound["cite"]] if "cite" in bound else OBSERVED,
            )
            for bound in rule.bounds
        ),
        conditions=tuple(map(gate_words, rule.gates)),
        correction=correction_words(rule),
        missing=tuple(map(unjudged_words, rule.unjudged)),
        sources=tuple(sources),
        rule=rule,
    )


def source_of(cite: Part) -> Source:
    """Return a citation in words, with the key of the table that it cites."""
    return Source(
        words=cite_words(cite).removeprefix("Source: "),
        provenance=cite["provenance"],
        key=_key_of(cite),
    )


def _key_of(cite: Part) -> str | None:
    """Return the table of *cite*: the only one so named, else the one with its row."""
    named = [
        table_file
        for table_file in table_files().values()
        if (table_file.document, table_file.edition, table_file.table)
        == (cite["document"], cite["edition"], cite["table"])
    ]
    if len(named) > 1:
        named = [s for s in named if cite["row"] in [row["row"] for row in s.rows]]
    return named[0].key if named else None
