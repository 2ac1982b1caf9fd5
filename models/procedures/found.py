"""What was found for the figures of a declared file's part, and when each holds."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any

from models.procedures.lookups import Place, When, absences, figures, is_lookup

Cite = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Found:
    """A value, the condition under which it holds, and where it is from."""

    when: When
    value: Any
    cites: Sequence[Cite] = ()


def found(said: Any, at: Place) -> list[Found]:
    """Return what is said or looked up in the unit of *at*; empty: nothing is known.

    A number stands for itself. What is expected from a condition has its `times` and
    `plus` looked up.
    """
    if is_lookup(said):
        return [
            Found(when, claim.value, (claim.cite,)) for when, claim in figures(said, at)
        ]
    if isinstance(said, list) and any(isinstance(one, Mapping) for one in said):
        listed = {str(number): found(one, at) for number, one in enumerate(said)}
        return [
            Found(one.when, list(one.value.values()), one.cites)
            for one in together(listed)
        ]
    if not isinstance(said, Mapping):
        return [Found({}, said)]
    parts = {key: found(value, at) for key, value in said.items()}
    return list(together(parts))


def reasons(said: Any, at: Place) -> Iterator[tuple[When, str]]:
    """Yield why what was looked up is not known, and when, where the file says it."""
    if is_lookup(said):
        yield from absences(said, at)
    elif isinstance(said, Mapping | list):
        for value in said.values() if isinstance(said, Mapping) else said:
            yield from reasons(value, at)


def together(parts: Mapping[str, Sequence[Found]]) -> Iterator[Found]:
    """Yield the parts of one thing as one: every set of them that can hold at once."""
    for chosen in product(*parts.values()):
        when = _both(one.when for one in chosen)
        if when is not None:
            values = {k: one.value for k, one in zip(parts, chosen, strict=True)}
            yield Found(when, values, [cite for one in chosen for cite in one.cites])


def _both(whens: Iterable[When]) -> When | None:
    """Return the conditions of all; None where they exclude each other."""
    joined: dict[str, Any] = {}
    for when in whens:
        for name, word in when.items():
            if joined.setdefault(name, word) != word:
                return None
    return joined
