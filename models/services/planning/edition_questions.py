"""Which edition the contract names: asked where the prints of a table differ here."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy.orm import Session

from models.criteria.prints import Print, choices
from models.judging import Criteria, Rule
from models.judging.tables import Table
from models.procedures import PROCEDURES
from models.schema import Apparatus
from models.services.criteria.editions import prints_in_use
from models.services.criteria.rule_differences import differences
from models.services.criteria.rules_in_force import RulesInForce
from models.services.planning.draft import Planning


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """What another print asks otherwise of one procedure on this lineup."""

    procedure: str
    on: Sequence[str]  # labels of the apparatus, or how many
    was: Sequence[str]
    now: Sequence[str]

    @property
    def only_cited(self) -> bool:
        """Whether both ask the same here, and cite another document for it."""
        return _without_sources(self.was) == _without_sources(self.now)


def _without_sources(lines: Sequence[str]) -> list[str]:
    return sorted(line.partition(" (")[0] for line in lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherPrint:
    """A print that may be named, with what it changes against the one in use."""

    print: Print
    differences: Sequence[Difference]


@dataclass(frozen=True, slots=True, kw_only=True)
class EditionQuestion:
    """A table whose prints differ for the planned cards.

    *answer* is the key of the print that is named, empty where nobody was asked yet:
    then the one in use holds.
    """

    table: str
    title: str
    in_use: Print
    others: Sequence[OtherPrint]
    answer: str
    document: str

    @property
    def chosen(self) -> str:
        """The key of the print that the round is to be judged by."""
        return self.answer or self.in_use.key


def edition_questions(session: Session, found: Planning) -> list[EditionQuestion]:
    """Return the tables that have to be asked about, in the order of the library."""
    in_use = prints_in_use(session, found.lineup.site)
    answers = {one.table: one for one in found.plan.editions}
    asked = _Asked(session, found)
    questions = []
    for table, prints in choices().items():
        now = in_use.get(table, table)
        others = [p for p in prints if not p.refused and p.key != now]
        shown = [
            OtherPrint(print=other, differences=asked.differences(table, other.key))
            for other in others
        ]
        if not any(one.differences for one in shown):
            continue
        answer = answers.get(table)
        questions.append(
            EditionQuestion(
                table=table,
                title=prints[0].title,
                in_use=next(p for p in prints if p.key == now),
                others=shown,
                answer=answer.print if answer else "",
                document=answer.document if answer else "",
            )
        )
    return questions


class _Noted(dict[str, Table]):
    """Tables that note which of them are asked for."""

    def __init__(self, tables: Mapping[str, Table]) -> None:
        super().__init__(tables)
        self.asked: set[str] = set()

    def __getitem__(self, key: str) -> Table:
        self.asked.add(key)
        return super().__getitem__(key)


class _Asked:
    """The rules of the planned cards, by the editions in use and by others.

    *asked* are the tables that rules of a procedure rest on here: with another print
    of one only those rules are compiled again.
    """

    def __init__(self, session: Session, found: Planning) -> None:
        self.session, self.found = session, found
        self.today = self._rules({})
        self.asked: dict[str, set[str]] = {}
        tables = _Noted(self.today.criteria.tables)
        self.today.criteria = Criteria(tables)
        self.rules: list[tuple[Apparatus, str, dict[str, Any]]] = []
        for apparatus, name in _tested(found):
            tables.asked = self.asked.setdefault(name, set())
            self.rules.append((apparatus, name, self.today.rule(apparatus, name)))

    def _rules(self, prints: Mapping[str, str]) -> RulesInForce:
        person, lineup = self.found.person, self.found.lineup
        given = self.today.given if prints else None
        return RulesInForce(
            self.session, lineup, person.organisation_id, given, prints=prints
        )

    def differences(self, table: str, other: str) -> list[Difference]:
        """Return what *other* in the place of *table* changes, alike ones together."""
        rest = [one for one in self.rules if table in self.asked[one[1]]]
        if not rest:
            return []
        after = self._rules({table: other})
        grouped: dict[Any, list[str]] = {}
        said: dict[tuple[int, int], Any] = {}
        for apparatus, name, was in rest:
            now = after.rule(apparatus, name)
            pair = (id(was), id(now))
            if pair not in said:
                said[pair] = _said(was, now)
            old, new = said[pair]
            if old or new:
                grouped.setdefault((name, old, new), []).append(apparatus.label)
        return [
            Difference(
                procedure=PROCEDURES[name].title,
                on=tuple(dict.fromkeys(labels)),
                was=old,
                now=new,
            )
            for (name, old, new), labels in grouped.items()
        ]


def _tested(found: Planning) -> list[tuple[Apparatus, str]]:
    apparatus = {a.id: a for a in found.apparatus}
    pairs: Iterable[Any] = ((c.apparatus_id, c.procedure) for c in found.plan.planned)
    return [(apparatus[key], name) for key, name in dict.fromkeys(pairs)]


def _said(
    was: Mapping[str, Any], now: Mapping[str, Any]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what two rules ask differently, whatever the conditions will be."""
    if was == now:
        return (), ()
    old, new = Rule.from_json(dict(was)), Rule.from_json(dict(now))
    found: list[tuple[list[str], list[str]]] = [
        differences(old, new, words) for words in _cases(old, new)
    ]
    return (
        tuple(dict.fromkeys(line for lines, _ in found for line in lines)),
        tuple(dict.fromkeys(line for _, lines in found for line in lines)),
    )


def _cases(*rules: Rule) -> list[dict[str, Any]]:
    """Return each set of conditions that a part of the rules names."""
    cases: list[dict[str, Any]] = [{}]
    for rule in rules:
        for part in (*rule.bounds, *rule.gates, *rule.unjudged):
            when = dict(part.get("when") or {})
            if when not in cases:
                cases.append(when)
    return cases
