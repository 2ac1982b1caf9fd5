"""A line, a field, a group of lists: what the files say, as values."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from models.criteria.safety.shapes import FieldKind, Scope
from models.criteria.safety.words import PROVENANCES


@dataclass(frozen=True, slots=True, kw_only=True)
class Sources:
    """Where a statement comes from; "" in a list: the statement as a whole."""

    published: Sequence[str] = ()
    memory: Sequence[str] = ()
    practice: Sequence[str] = ()
    own: Sequence[str] = ()

    @property
    def said(self) -> str:
        """The sources in one text, each with its standing unless it is published."""
        found = [*self.published]
        for name, words in list(PROVENANCES.items())[1:]:
            named = [one for one in getattr(self, name) if one]
            if named:
                found.append(f"{words}: {', '.join(named)}")
            elif getattr(self, name):
                found.append(words)
        return "; ".join(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Only:
    """Where a line is asked: each condition that is given has to hold.

    *facts* are words of `models.criteria.safety.words`, which hold unless they are
    known not to; *here*, *section*, *planned*: one of these groups is planned in the
    cell, in its bus section, in the round.
    """

    gears: Sequence[str] = ()
    facts: Sequence[str] = ()
    here: Sequence[str] = ()
    section: Sequence[str] = ()
    planned: Sequence[str] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyLine:
    """One act or fact that one named person has seen or done.

    *asked* says in words when it is asked; *only* is what the program knows of that
    beforehand, *when* what the registers and other lines decide.
    """

    code: str
    text: str
    asked: str
    scope: Scope
    each: Sequence[str] = ()
    noted: Sequence[str] = ()
    lapses: Sequence[str] = ()
    only: Only = Only()
    when: Mapping[str, Any] = field(default_factory=dict)
    suspends: Mapping[str, Any] = field(default_factory=dict)
    never_waived: bool = False
    sources: Sources


@dataclass(frozen=True, slots=True, kw_only=True)
class NotedField:
    """What is noted with a line, or stands on a register."""

    label: str
    kind: FieldKind = "text"
    unit: str | None = None
    choices: Sequence[str] = ()
    required: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A line of a list; *if_fact*: asked unless that is known not to be so."""

    code: str
    if_fact: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CardList:
    """What is asked on a card for which every word of *where* is so."""

    of: str
    where: Sequence[str]
    before: Sequence[Asked]
    after: Sequence[Asked]


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A kind of test with its lists; the first that fits a card is its list."""

    code: str
    title: str
    rests_on: Sequence[Scope]
    on_dead_gear: Sequence[Scope]
    primary: bool
    lists: Sequence[CardList]


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A caution, shown at lines and at the head of cards of some groups."""

    key: str
    title: str
    text: str
    lines: Sequence[str]
    groups: Sequence[str]
    sources: Sources


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A fact that asks for no act; *entry*: groups at whose field it is shown."""

    text: str
    lines: Sequence[str]
    groups: Sequence[str]
    entry: Sequence[str]
    gears: Sequence[str]
    sources: Sources


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleSet:
    """Rules that may govern a site; *test_area*: those for high-voltage test areas."""

    code: str
    name: str
    where: str
    test_area: str
    sources: Sources


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyBooks:
    """Everything that the files say, each by its code, key or name."""

    lines: Mapping[str, SafetyLine]
    fields: Mapping[str, NotedField]
    registers: Mapping[str, Sequence[str]]
    groups: Mapping[str, Group]
    cautions: Mapping[str, Caution]
    shown: Sequence[Shown]
    changes: Mapping[str, str]
    rule_sets: Mapping[str, RuleSet]
    governs: str
