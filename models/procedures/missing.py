"""What a condition has to be before a figure is known for it: gates with a reason."""

from collections.abc import Iterator, Mapping
from typing import Any

from models.procedures import precedence
from models.procedures.lookups import (
    Lookup,
    Place,
    chosen,
    claims,
    first_of,
    said_of,
    words_of,
)

Gate = dict[str, Any]


def missing_gates(lookup: Lookup, at: Place) -> Iterator[Gate]:
    """Yield a gate for each choice that says with `missing` what is wanting.

    None where something holds under every condition: then nothing is chosen.
    """
    if precedence.decides(claims(lookup, at)) is not None:
        return
    for one in first_of(lookup):
        on = one.get("by") or next(iter(one.get("each", ())), None)
        if on is not None:
            yield from _gates(str(on), one, at)


def _gates(on: str, one: Lookup, at: Place) -> Iterator[Gate]:
    if "missing" in one:
        found = dict.fromkeys(when[on] for when, _ in chosen(one, at))
        yield {"on": on, "one_of": list(found), "reason": one["missing"]}
    for word in words_of(one):
        for gate in missing_gates(one[word], at):
            when: Mapping[str, Any] = {on: said_of(word), **gate.get("when", {})}
            yield {**gate, "when": when}
