"""What the readings of a procedure give to a question, as its own file says it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, field
from typing import Any

KEYS = ("of", "part", "over", "where", "at", "derived")


@dataclass(frozen=True, slots=True, kw_only=True)
class Gives:
    """The question that its readings belong to, and which *part* of it they are.

    Without a part they only stand beside it. *over*: the value is over that condition;
    *where*: of readings whose conditions are these words; *at*: of readings whose
    condition is within 2 % of that part of the question. *derived*: not the value, but
    what the rule of its point reads off the row under the first of these names.
    """

    of: str
    part: str = ""
    over: str = ""
    where: Mapping[str, str] = field(default_factory=dict)
    at: Mapping[str, str] = field(default_factory=dict)
    derived: Sequence[str] = ()

    def as_json(self) -> dict[str, Any]:
        """Return it for the tablet."""
        return asdict(self)


def given_to(said: Sequence[Mapping[str, Any]]) -> tuple[Gives, ...]:
    """Return what a file's `questions` say."""
    return tuple(Gives(**one) for one in said)


def give_faults(said: Sequence[Any], asked: Sequence[str]) -> Iterator[str]:
    """Yield what is wrong with a file's `questions`; *asked* are its conditions."""
    for number, one in enumerate(said, start=1):
        place = f"questions {number}"
        if not isinstance(one, Mapping) or "of" not in one:
            yield f"{place}: write {{ of = a question, part = ... }}"
            continue
        for key in one:
            if key not in KEYS:
                yield f"{place}: '{key}' is not known: write {', '.join(KEYS)}"
        named = [one.get("over", ""), *one.get("where", {}), *one.get("at", {})]
        for name in filter(None, named):
            if name not in asked:
                yield f"{place}: '{name}' is not asked for"
