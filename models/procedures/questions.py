"""Questions that several procedures answer together, as `questions.toml` lists them."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from models.errors import CriteriaError
from models.fields import FIELDS
from models.judging import Criteria
from models.judging.quantities import UNITS
from models.procedures.lookups import Lookup, Place, figures
from models.procedures.subject import Subject

TAKES = ("greatest", "least")


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A figure of the answer: the *take* of the readings that give it.

    Without *take* no reading gives it. *otherwise* looks it up on the nameplates.
    """

    label: str
    unit: str
    take: str = ""
    otherwise: Lookup | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked, and what follows from its parts, in *unit*."""

    title: str
    follows: str
    unit: str
    parts: Mapping[str, Part]
    plus: Sequence[str]
    minus: Sequence[str] = ()
    times: Sequence[str] = ()
    at_most: str = ""
    shows: Sequence[str] = ()  # fields of the nameplates that stand beside it


@cache
def questions() -> Mapping[str, Question]:
    """Return the questions by name.

    Raises CriteriaError with every fault of the file.
    """
    text = files("models.procedures").joinpath("questions.toml").read_text("utf-8")
    return read_questions(text)


def read_questions(text: str) -> Mapping[str, Question]:
    """Return what a file of questions says; CriteriaError with every fault of it."""
    data = tomllib.loads(text)
    found = {name: _question(one) for name, one in data.items()}
    wrong = [
        f"questions.toml, {name}: {fault}"
        for name, one in found.items()
        for fault in _faults(one)
    ]
    if wrong:
        raise CriteriaError("; ".join(wrong))
    return MappingProxyType(found)


def _question(data: Mapping[str, Any]) -> Question:
    try:
        parts = {name: Part(**part) for name, part in data["part"].items()}
        said = {key: value for key, value in data.items() if key != "part"}
        return Question(parts=parts, **said)
    except (KeyError, TypeError) as error:
        raise CriteriaError(f"questions.toml: {error}") from error


def _faults(one: Question) -> Iterator[str]:
    named = [*one.plus, *one.minus, *one.times, *filter(None, [one.at_most])]
    yield from (f"'{name}' is no part" for name in named if name not in one.parts)
    yield from (f"'{name}' is no field" for name in one.shows if name not in FIELDS)
    for name, part in one.parts.items():
        if part.take not in ("", *TAKES):
            yield f"{name}: take is one of {', '.join(TAKES)}"
        if not part.take and part.otherwise is None:
            yield f"{name}: no reading gives it and nothing is looked up"
        if part.unit not in UNITS:
            yield f"{name}: '{part.unit}' is no unit"


def known_parts(
    question: Question, subject: Subject, criteria: Criteria
) -> dict[str, float]:
    """Return the parts that are looked up and known, each in its unit."""
    found: dict[str, float] = {}
    for name, part in question.parts.items():
        if part.otherwise is None:
            continue
        for _, claim in figures(
            part.otherwise, Place(subject, criteria, {}, part.unit)
        ):
            found[name] = claim.value
    return found
