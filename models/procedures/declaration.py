"""A procedure that is declared in a TOML file: read strictly, compiled into rules."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from models.errors import CriteriaError
from models.judging import Criteria, Rule
from models.judging.series import SERIES
from models.procedures.compiled import Compiling
from models.procedures.declared_faults import faults
from models.procedures.gives import given_to
from models.procedures.lookups import first_of, found_words, is_lookup, words_of
from models.procedures.procedure import Givable, Points, Procedure, Safety, ask, safety
from models.procedures.subject import Subject

Data = Mapping[str, Any]


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
            signed=data.get("signed", False),
            by_eye=data.get("by_eye", False),
            compared=any("lowest" in one["kind"] for one in data.get("bound", ())),
            against_baseline=any(map(_of_baseline, data.get("bound", ()))),
            forecast=trend.get("forecast", False),
            waveform=data.get("waveform", ""),
            questions=given_to(data.get("questions", ())),
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
            said = [value for value in bound.values() if is_lookup(value)]
            choices = [one for value in said for one in first_of(value)]
            choices += [one[word] for one in choices for word in words_of(one)]
            plates = tuple(one["plate"] for one in choices if "plate" in one)
            for one in choices:
                if "column" in one and "table" not in one:
                    found[one["column"]] = plates
        return found

    def compile_rule(self, subject: Subject, criteria: Criteria) -> Rule:
        """Return the rule; a bound whose figure nobody gives is left out."""
        return Compiling(self.data, self.givable, subject, criteria).rule()


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
        when=said.get("when"),
    )


def _of_baseline(bound: Data) -> bool:
    """Return whether a bound compares with the baseline, or looks it up."""
    looked_up = [one for value in bound.values() for one in found_words(value)]
    return bound["kind"] == "of_baseline" or "baseline" in looked_up


def _safety(said: Data) -> Safety:
    return safety(
        said.get("group", ""),
        by=said.get("by"),
        waits_for=said.get("waits_for", ()),
        **said.get("groups", {}),
    )
