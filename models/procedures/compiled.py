"""A declared procedure compiled for one apparatus: its figures looked up, its rule."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from models.fields import field, find_field
from models.judging import Criteria, Rule
from models.judging.parts import Derived
from models.judging.tables import PRACTICE
from models.procedures.contradictions import contradictions
from models.procedures.corrected import correction
from models.procedures.found import Found, found, reasons, together
from models.procedures.lookups import (
    Place,
    When,
    fields_of,
    holds,
    is_lookup,
    others,
)
from models.procedures.procedure import Givable
from models.procedures.subject import Subject
from models.procedures.times_baseline import against
from models.procedures.words import BOUNDS, BoundWords
from models.words import catalogue

Data = Mapping[str, Any]
READING = "reading"
# Words whose second value has the unit of the first.
SAME_UNIT = ("plus", "minus", "error_pct")


class Compiling:
    """A rule in the making: parts that were found, and the sources that they cite."""

    def __init__(
        self,
        data: Data,
        givable: Mapping[str, Givable],
        subject: Subject,
        criteria: Criteria,
    ) -> None:
        """Begin with nothing found."""
        self.data, self.givable = data, givable
        self.subject, self.criteria = subject, criteria
        self.unit: str | None = data.get("unit", {}).get("rule")
        self.units: dict[str, str] = {READING: self.unit or ""}  # of derived values
        self.lost: dict[str, str] = {}  # derived values that cannot be, and why
        self.reasons: list[dict[str, Any]] = []
        self.cites: list[Mapping[str, Any]] = []

    def rule(self) -> Rule:
        """Return the rule."""
        data = self.data
        derive = [part for one in data.get("derive", ()) for part in self._derive(one)]
        bounds = [b for one in data.get("bound", ()) for b in self._bounds(one)]
        gates = [gate for one in data.get("gate", ()) for gate in self._gate(one)]
        gates += self._choices()
        return Rule(
            procedure=data["name"],
            unit=self.unit,
            signed=data.get("signed", False),
            said=data.get("unit", {}).get("said"),
            derive=derive,
            gates=gates,
            correction=self._correction(),
            bounds=bounds,
            unjudged=[
                *self.reasons,
                *self._unjudged(bounds),
                *contradictions(bounds, self.unit or ""),
            ],
            decision=data.get("judged", {}).get("decision", "guarded"),
            cite=self.cites,
        )

    def _place(self, unit: str) -> Place:
        return Place(self.subject, self.criteria, self.givable, unit)

    def _derive(self, one: Data) -> Iterator[Derived]:
        """Yield the derived value, unless what it is worked out with is not known."""
        name, of = one["name"], one.get("of", READING)
        self.units[name] = one.get("unit", self._unit_of(of))
        reason = self._lost_reason(one)
        at = self._place(self._unit_of(of) if one["op"] in SAME_UNIT else "")
        parts = {key: found(value, at) for key, value in one.items()}
        if reason is None:
            reason = _why(one, at) if not all(parts.values()) else None
        if reason is not None:
            self.lost[name] = reason
            return
        for whole in together(parts):
            self.cites.extend(whole.cites)
            yield self._with_units(whole.value)

    def _with_units(self, part: Data) -> Derived:
        """Return a derived value with the units in which its conditions are said."""
        made: Any = {key: self._with_unit(value) for key, value in part.items()}
        unit = self._condition_unit(part.get("of", READING))
        if unit:
            made["of_unit"] = unit
        whole: Derived = made
        return whole

    def _with_unit(self, said: Any) -> Any:
        """Return what is taken from a condition with its unit and what it is called."""
        if not isinstance(said, Mapping) or "on" not in said:
            return said
        if said["on"] in self.units:
            return said
        unit = self._condition_unit(said["on"])
        return {**_named(said), **({"unit": unit} if unit else {}), **said}

    def _condition_unit(self, name: str) -> str:
        """Return the unit of a condition; empty for what is none, or has none."""
        about = None if name in self.units else find_field(name)
        return about.unit if about else ""

    def _lost_reason(self, part: Data) -> str | None:
        """Return why what *part* speaks of cannot be; None where it can."""
        names = [part.get("of"), part.get("on")]
        names += [v.get("on") for v in part.values() if isinstance(v, Mapping)]
        return next((self.lost[name] for name in names if name in self.lost), None)

    def _unit_of(self, name: str) -> str:
        """Return the unit of the reading, a derived value or a condition."""
        about = find_field(name)
        return self.units.get(name, about.unit if about else "")

    def _bounds(self, one: Data) -> Iterator[dict[str, Any]]:
        """Yield the bound for each condition under which its figures are known."""
        when: When = one.get("when", {})
        if not holds(one, self.subject):
            return
        lost = self._lost_reason(one)
        if lost is not None:
            self._leave(lost, when)
            return
        words = BOUNDS[one["kind"]]
        parts = {word: self._found(one, word) for word in words.figures}
        for word, figure in words.figures.items():
            if one.get(word) is not None and not figure.optional:
                for chosen, reason in reasons(one[word], self._at(one, word)):
                    self._leave(reason, {**when, **chosen})
        self._leave_one_of(one, words, parts, when)
        extra = self._baseline(one)
        if extra is None:
            return
        for whole in together(_known(parts)):
            if words.one_of and not set(words.one_of) & set(whole.value):
                continue
            yield from _with_upper_end({**self._bound(one, words, whole), **extra})

    def _baseline(self, one: Data) -> dict[str, Any] | None:
        """Return what a bound takes from the baseline; None: there is none."""
        if one["kind"] != "of_baseline":
            return {}
        return against(self.subject.baseline, self.unit or "")

    def _at(self, one: Data, word: str) -> Place:
        own = BOUNDS[one["kind"]].figures[word].unit
        return self._place(own or one.get("unit") or self._unit_of(_of(one)))

    def _found(self, one: Data, word: str) -> list[Found] | None:
        """Return what is found of a figure; None where the bound goes without it."""
        figure = BOUNDS[one["kind"]].figures[word]
        if word not in one:
            return None if figure.default is None else [Found({}, figure.default)]
        return found(one[word], self._at(one, word)) or (
            None if figure.optional else []
        )

    def _leave_one_of(
        self,
        one: Data,
        words: BoundWords,
        parts: Mapping[str, list[Found] | None],
        when: When,
    ) -> None:
        """Say why a bound is left out of whose figures *one_of* none is known."""
        if words.one_of and all(parts[word] is None for word in words.one_of):
            for word in words.one_of:
                for chosen, reason in reasons(one.get(word), self._at(one, word)):
                    self._leave(reason, {**when, **chosen})

    def _bound(self, one: Data, words: BoundWords, whole: Found) -> dict[str, Any]:
        kept = {k: v for k, v in one.items() if k in (*words.words, "of")}
        unit = {"unit": self._unit_of(one["of"])} if "of" in one else {}
        if "of" in one and one["of"] not in self.units:
            unit |= _named({"on": one["of"]})
        named = {
            words.figures[word].name: self._with_unit(value)
            for word, value in whole.value.items()
        }
        when = {**one.get("when", {}), **whole.when}
        cite, sources = len(self.cites), self._sources(one, whole)
        self.cites.extend(sources)
        # A band rests on where its width is from as well.
        wide = one["kind"] in ("near", "near_angle") and len(sources) > 1
        return {
            "kind": one["kind"],
            **named,
            **unit,
            **kept,
            **({"when": when} if when else {}),
            "cite": cite,
            **({"tolerance_cite": cite + 1} if wide else {}),
        }

    def _sources(self, one: Data, whole: Found) -> Sequence[Mapping[str, Any]]:
        """Return what a bound cites: its figures' sources, or what the file names."""
        if "cite" in one:
            table = self.criteria.table(one["cite"]["table"])
            row = table.find(lambda row: row["row"] == one["cite"]["row"])
            assert row is not None
            return (table.cite(row), *whole.cites)
        return whole.cites or (PRACTICE,)

    def _leave(self, reason: str, when: When) -> None:
        said = {"when": dict(when), "reason": reason} if when else {"reason": reason}
        if said not in self.reasons:
            self.reasons.append(said)

    def _gate(self, one: Data) -> Iterator[dict[str, Any]]:
        lost = self._lost_reason(one)
        if lost is not None:
            self._leave(lost, one.get("when", {}))
            return
        at = self._place(one.get("unit", ""))
        least = {k: found(one[k], at) for k in ("at_least", "at_most") if k in one}
        for value in least:
            for chosen, reason in reasons(one[value], at):
                self._leave(reason, {**one.get("when", {}), **chosen})
        for whole in together(least):
            self.cites.extend(whole.cites)
            when = {**one.get("when", {}), **whole.when}
            held = {"when": when} if when else {}
            yield {**_named(one), **one, **whole.value, **held}

    def _choices(self) -> Iterator[dict[str, Any]]:
        """Yield once each what a condition has to be for a figure to be chosen."""
        seen: list[dict[str, Any]] = []
        for one in self.data.get("bound", ()):
            for word in BOUNDS[one["kind"]].figures:
                if is_lookup(one.get(word)):
                    for when, on, of, why in others(one[word], self._at(one, word)):
                        gate: dict[str, Any] = {"on": on, "one_of": of, "reason": why}
                        if both := {**one.get("when", {}), **when}:
                            gate["when"] = both
                        if gate not in seen:
                            seen.append(gate)
                            yield gate

    def _correction(self) -> Mapping[str, Any]:
        at, cite = self._place(""), len(self.cites)
        made, sources, why = correction(self.data.get("correction"), at, cite)
        self.cites.extend(sources)
        if why is not None:
            self._leave(why, {})
        return made

    def _unjudged(self, bounds: Sequence[Data]) -> Iterator[dict[str, Any]]:
        """Yield the reason where nothing decides, or nothing under some condition."""
        reason = self.data.get("unjudged_without_bounds")
        if reason is None or any("when" not in bound for bound in bounds):
            return
        if not bounds:
            yield {"reason": reason}
            return
        judged = [bound["when"] for bound in bounds]
        for on, words in self.data["points"].get("by", {}).items():
            for word in words:
                if {on: word} not in judged:
                    yield {"when": {on: word}, "reason": reason}


def _named(gate: Data) -> dict[str, str]:
    """Return what the condition of a gate is called, where no sentence names it."""
    about = find_field(gate["on"]) if "on" in gate else None
    if about is None or f"condition.{gate['on']}" in catalogue():
        return {}
    return {"label": about.in_sentence}


def _with_upper_end(bound: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Yield a bound, and for a minimum with `up_to` the maximum that it makes."""
    up_to = bound.pop("up_to", None)
    yield bound
    if up_to is not None:
        value, cite = bound["value"] * up_to, bound["cite"] + 1
        yield {**bound, "kind": "high", "value": value, "cite": cite}


def _of(one: Data) -> str:
    of: str = one.get("of", READING)
    return of


def _known(parts: Mapping[str, list[Found] | None]) -> dict[str, list[Found]]:
    return {word: found for word, found in parts.items() if found is not None}


def _why(one: Data, at: Place) -> str:
    """Return why a derived value cannot be worked out."""
    for value in one.values():
        for _, reason in reasons(value, at):
            return reason
    names = [name for value in one.values() for name in fields_of(value)]
    missing = [n for n in dict.fromkeys(names) if n not in at.subject.fields]
    labels = [field(name).in_sentence for name in missing]
    return f"Not known: {', '.join(labels)}." if labels else NO_FIGURE


NO_FIGURE = "A figure that the value is worked out with is not known."
