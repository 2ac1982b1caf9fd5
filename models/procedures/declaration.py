"""A procedure that is declared in a TOML file: read strictly, compiled into rules."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from models.errors import CriteriaError
from models.judging import Criteria, Rule
from models.judging.series import SERIES
from models.procedures.declared_faults import faults
from models.procedures.lookups import Lookup, Place, every, figures
from models.procedures.metal import metal_correction
from models.procedures.missing import missing_gates
from models.procedures.procedure import Givable, Points, Procedure, Safety, ask, safety
from models.procedures.subject import Subject

Data = Mapping[str, Any]

# The figure of a bound: what it is called in a rule, and its unit where that is not
# the rule's.
FIGURE: Mapping[str, tuple[str, str]] = {
    "low": ("value", ""),
    "high": ("value", ""),
    "high_of_lowest": ("times", "times"),
    "over_lowest": ("by", ""),
    "near": ("expected", ""),
}
KEPT = ("odd_share", "pct", "fixed", "below", "above", "of", "resolve")


@dataclass(frozen=True)
class Declaration:
    """What the file of one declared procedure says."""

    data: Data

    @cached_property
    def procedure(self) -> Procedure:
        """What the procedure is for people and pages."""
        data, trend, unit = self.data, self.data["trend"], self.data.get("unit", {})
        points = data["points"]
        return Procedure(
            name=data["name"],
            title=data["title"],
            method=data["method"],
            units=tuple(unit.get("read", ())),
            default_unit=next(iter(unit.get("read", ("",)))),
            asks=tuple(_ask(one) for one in data.get("asks", ())),
            outcomes=tuple(data.get("outcomes", ())),
            preconditions=tuple(data["preconditions"]),
            safety=_safety(data["safety"]),
            gears=tuple(data["on"]["gears"]),
            apparatus=tuple(data["on"]["apparatus"]),
            points=Points(points["pattern"], points.get("by", {})),
            rests_on=tuple(data.get("rests_on", ())),
            columns=self._columns(),
            series=tuple(SERIES[name] for name in data.get("series", ())),
            givable=tuple(self.givable.values()),
            notes=tuple(data.get("notes", ())),
            worse=trend["worse"],
            scale=trend["scale"],
            compared=any("lowest" in one["kind"] for one in data.get("bound", ())),
            forecast=trend.get("forecast", False),
            waveform=data.get("waveform", ""),
            example=data.get("example", {}),
        )

    @cached_property
    def givable(self) -> Mapping[str, Givable]:
        """The quantities that a maker or a project can give for it, by name."""
        return {
            one["name"]: Givable(**{**one, "units": tuple(one["units"])})
            for one in self.data.get("gives", ())
        }

    def _columns(self) -> dict[str, Sequence[str]]:
        """Return each column with the nameplate's fields that decide in its place."""
        found: dict[str, Sequence[str]] = dict.fromkeys(
            self.data.get("columns", ()), ()
        )
        for bound in self.data.get("bound", ()):
            choices = list(every(_figure_of(bound)))
            plates = tuple(one["plate"] for one in choices if "plate" in one)
            for one in choices:
                if "column" in one and "table" not in one:
                    found[one["column"]] = plates
        return found

    def compile_rule(self, subject: Subject, criteria: Criteria) -> Rule:
        """Return the rule; a bound whose figure nobody gives is left out."""
        return _Compiling(self, subject, criteria).rule()


def parse_declaration(file: str, text: str) -> Declaration:
    """Return what the file *file* declares in *text*.

    Raises CriteriaError with every fault: the file, the line or the key, what is wrong
    with it, and what is allowed.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise CriteriaError(f"{file}: {error}") from error
    found = list(faults(file, data))
    if found:
        raise CriteriaError("; ".join(found))
    return Declaration(data)


def _ask(one: str | Data) -> dict[str, Any]:
    said: Data = {"field": one} if isinstance(one, str) else one
    return ask(
        said["field"],
        said.get("label", ""),
        required=said.get("required", True),
        choices=tuple(said.get("choices", ())),
    )


def _safety(said: Data) -> Safety:
    return safety(
        said.get("group", ""),
        by=said.get("by"),
        waits_for=said.get("waits_for", ()),
        **said.get("groups", {}),
    )


def _figure_of(bound: Data) -> Lookup:
    """Return the look-up of a bound's figure; one that only compares words has none."""
    found: Lookup = bound.get("value", bound.get("times", {}))
    return found


class _Compiling:
    """A rule in the making: parts that were found, and the sources that they cite."""

    def __init__(
        self, declared: Declaration, subject: Subject, criteria: Criteria
    ) -> None:
        self.declared, self.data = declared, declared.data
        self.subject, self.criteria = subject, criteria
        self.unit: str | None = self.data.get("unit", {}).get("rule")
        self.cites: list[Mapping[str, Any]] = []

    def rule(self) -> Rule:
        bounds = [b for one in self.data.get("bound", ()) for b in self._bounds(one)]
        gates = [gate for one in self.data.get("gate", ()) for gate in self._gate(one)]
        gates += self._missing()
        return Rule(
            procedure=self.declared.procedure.name,
            unit=self.unit,
            gates=gates,
            correction=self._correction(),
            bounds=bounds,
            unjudged=list(self._unjudged(bounds)),
            decision=self.data.get("judged", {}).get("decision", "guarded"),
            cite=self.cites,
        )

    def _place(self, unit: str) -> Place:
        return Place(self.subject, self.criteria, self.declared.givable, unit)

    def _bounds(self, one: Data) -> Iterator[dict[str, Any]]:
        kind = one["kind"]
        if kind == "expected":
            yield {k: v for k, v in one.items() if k != "reason"}
            return
        name, own_unit = FIGURE[kind]
        place = self._place(own_unit or self.unit or "")
        kept = {key: one[key] for key in KEPT if key in one}
        for when, claim in figures(_figure_of(one), place):
            cite = len(self.cites)
            self.cites.append(claim.cite)
            chosen = {"when": dict(when)} if when else {}
            yield {"kind": kind, name: claim.value, **kept, **chosen, "cite": cite}

    def _gate(self, one: Data) -> Iterator[dict[str, Any]]:
        least = {key: one[key] for key in ("at_least", "at_most") if key in one}
        if not least:
            yield dict(one)
            return
        for key, lookup in least.items():
            for when, claim in figures(lookup, self._place(one["unit"])):
                chosen = {"when": dict(when)} if when else {}
                self.cites.append(claim.cite)
                yield {**one, key: claim.value, **chosen}

    def _missing(self) -> Iterator[dict[str, Any]]:
        """Yield each gate once that a figure of the bounds says to be wanting."""
        seen: list[dict[str, Any]] = []
        for one in self.data.get("bound", ()):
            unit = FIGURE.get(one["kind"], ("", ""))[1] or self.unit or ""
            for gate in missing_gates(_figure_of(one), self._place(unit)):
                if gate not in seen:
                    seen.append(gate)
                    yield gate

    def _correction(self) -> Mapping[str, Any]:
        said = self.data.get("correction")
        if said is None:
            return {"by": "none"}
        correction, source = metal_correction(
            self.subject,
            self.criteria,
            plate=said["plate"],
            otherwise=said["otherwise"],
            cite=len(self.cites),
        )
        self.cites.append(source)
        return correction

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
