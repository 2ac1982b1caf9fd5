"""A rule: a criterion compiled for one point, as data that three readers share."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from operator import itemgetter
from typing import Any

from models.errors import CriteriaError
from models.judging.corrections import Correct, corrector
from models.judging.notes.vocabulary import note_faults
from models.judging.parts import Derived, Part
from models.judging.said import Said, is_said
from models.judging.timing_options import OPTIONS, option_faults
from models.judging.versions import NEWEST, READ, lowest_version
from models.judging.vocabulary import (
    bound_faults,
    correction_faults,
    derived_faults,
    gate_faults,
    row_gate_faults,
)
from models.words import say

COMPARISONS = ("high_of_lowest", "over_lowest")  # bounds that need the group
DECISIONS = ("simple", "guarded")
WRONG_SAID = "'said' is neither a unit of the rule's quantity nor names a condition"
PROVENANCES = (
    "published",
    "confirmed",
    "corrected",
    "memory",
    "computed",
    "practice",
    "suggested",
    "maker",
    "project",
)

_CITE_PARTS = itemgetter("document", "edition", "table", "row", "note", "provenance")

PROVENANCE_WORDS = {word: say(f"provenance.{word}") for word in PROVENANCES}


# What every text says of a figure from memory; pages draw the same lozenge.
MEMORY_MARK = "◇ from memory"


def rests_on_memory(cites: Iterable[Part]) -> bool:
    """Return whether one of the figures behind a verdict is from memory.

    What is only said beside a verdict decides nothing: its sources do not count.
    """
    return any(
        cite["provenance"] == "memory" and not cite.get("beside") for cite in cites
    )


def cite_words(cite: Part) -> str:
    """Return a citation as the last lines of a working show it."""
    return _cite_words(*_CITE_PARTS(cite))


@lru_cache(maxsize=256)
def _cite_words(
    document: str, edition: str, table: str, row: str, note: str, provenance: str
) -> str:
    if edition:
        document = say("source.edition", document=document, edition=edition)
    place = ", ".join(part for part in (document, table, row) if part)
    words = PROVENANCE_WORDS[provenance]
    if note:
        return say("source.noted", place=place, note=note, provenance=words)
    if place.lower() == words:
        return say("source.bare", provenance=words)
    return say("source", place=place, provenance=words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """Gates, derived values, a correction, bounds, the decision rule, notes, sources.

    The vocabulary is closed; its meaning is in docs/judging.md.
    """

    procedure: str
    unit: str | None  # bounds are in this unit; None: outcomes only
    signed: bool = False  # whether the reading may lie below zero
    said: Said = None  # the unit of saying, or the condition that names it
    gates: Sequence[Part] = ()
    derive: Sequence[Derived] = ()
    correction: Part = field(default_factory=lambda: {"by": "none"})
    bounds: Sequence[Part] = ()
    unjudged: Sequence[Part] = ()
    decision: str = "guarded"
    notes: Sequence[Part] = ()  # said beside the verdict; never change it
    cite: Sequence[Part] = ()
    # What follows from the rule alone is worked out once: many readings share it.
    cite_lines: Sequence[str] = field(init=False, repr=False, compare=False)
    compares: bool = field(init=False, repr=False, compare=False)  # within a group
    first_gates: Sequence[Part] = field(init=False, repr=False, compare=False)
    late_gates: Sequence[Part] = field(init=False, repr=False, compare=False)
    last_gates: Sequence[Part] = field(init=False, repr=False, compare=False)
    with_gates: dict[str, "Rule"] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )  # the same rule with a gate on this condition; filled in as it is asked for
    correct: Correct = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Check the words, say the citations, and remember what temperatures give."""
        self.check()
        compares = any(bound["kind"] in COMPARISONS for bound in self.bounds)
        object.__setattr__(self, "cite_lines", tuple(map(cite_words, self.cite)))
        object.__setattr__(self, "compares", compares)
        object.__setattr__(self, "correct", corrector(self.correction))
        names = {part["name"] for part in self.derive}
        last = [gate for gate in self.gates if gate.get("last")]
        rest = [gate for gate in self.gates if not gate.get("last")]
        late = [gate for gate in rest if _named(gate) in names]
        first = [gate for gate in rest if _named(gate) not in names]
        object.__setattr__(self, "first_gates", (*self.unjudged, *first))
        object.__setattr__(self, "late_gates", late)
        object.__setattr__(self, "last_gates", last)

    def to_json(self) -> dict[str, Any]:
        """Return the rule as the plain value that is stored and sent.

        It says the lowest version that carries it, so that the oldest reader that
        can read it does.
        """
        version = self.version
        notes = {"notes": [dict(note) for note in self.notes]} if version > 1 else {}
        derive = [dict(part) for part in self.derive]
        newer = {"signed": self.signed, "derive": derive} if version > 2 else {}
        said = {} if self.said is None else {"said": self.said}
        return {
            "v": version,
            "procedure": self.procedure,
            "unit": self.unit,
            **newer,
            **said,
            "gates": [dict(gate) for gate in self.gates],
            "correction": dict(self.correction),
            "bounds": [dict(bound) for bound in self.bounds],
            "unjudged": [dict(reason) for reason in self.unjudged],
            "decision": self.decision,
            **notes,
            "cite": [dict(source) for source in self.cite],
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> "Rule":
        """Read a stored rule.

        Raises CriteriaError for a version or a word that this reader does not
        know: better no verdict than a misread one.
        """
        version = data.get("v")
        if version not in READ:
            raise CriteriaError(
                f"this rule is of version {version}; "
                f"this program reads versions up to {NEWEST}"
            )
        rule = cls(
            procedure=data["procedure"],
            unit=data["unit"],
            signed=data.get("signed", False),
            said=data.get("said"),
            derive=tuple(data.get("derive", ())),
            gates=tuple(data["gates"]),
            correction=data["correction"],
            bounds=tuple(data["bounds"]),
            unjudged=tuple(data["unjudged"]),
            decision=data["decision"],
            notes=tuple(data.get("notes", ())),
            cite=tuple(data["cite"]),
        )
        if version < rule.version:
            raise CriteriaError(
                f"this rule of version {version} has words of a later one"
            )
        return rule

    @property
    def version(self) -> int:
        """Return the lowest version that carries the rule."""
        return lowest_version(
            unit=self.unit,
            signed=self.signed,
            said=self.said,
            gates=self.gates,
            derive=self.derive,
            notes=self.notes,
            bounds=self.bounds,
            correction=self.correction,
        )

    def check(self) -> None:
        """Raise CriteriaError for a word outside the vocabulary."""
        _check_word(self.decision, DECISIONS)
        said = () if is_said(self.said, self.unit) else (WRONG_SAID,)
        faults = [
            *said,
            *correction_faults(self.correction, self.unit),
            *bound_faults(self.bounds, signed=self.signed),
            *gate_faults(self.gates),
            *row_gate_faults(self.gates, self.derive),
            *derived_faults(self.derive),
            *note_faults(self.notes, len(self.cite)),
        ]
        if faults:
            raise CriteriaError("; ".join(faults))
        for bound in self.bounds:
            _check_options(bound)
        for source in self.cite:
            _check_word(source.get("provenance"), PROVENANCES)


def _named(gate: Part) -> Any:
    """Return what a gate looks at; of a row, what points have to lie above."""
    return gate.get("above", {}).get("of") if "series" in gate else gate["on"]


def _check_options(bound: Part) -> None:
    if bound["kind"] == "operating_time" and not OPTIONS.isdisjoint(bound):
        faults = option_faults(bound)
        if faults:
            raise CriteriaError(" ".join(faults))


def _check_word(word: str | None, known: Sequence[str]) -> None:
    if word not in known:
        raise CriteriaError(f"a rule says '{word}', which is none of {known}")


def applies(part: Part, conditions: Mapping[str, Any]) -> bool:
    """Return whether *part*'s `when` fits the conditions; no `when` always does."""
    when = part.get("when")
    if when:
        for name, value in when.items():
            if conditions.get(name) != value:
                return False
    return True
