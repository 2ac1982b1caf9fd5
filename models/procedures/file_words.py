"""What stands in the file of a declared procedure, and which words may not."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from models.fields import find_field
from models.fields.row import Kind
from models.fields.values import YES_NO

Data = Mapping[str, Any]


def unknown_keys(place: str, data: Data, allowed: Iterable[str]) -> Iterator[str]:
    """Yield each key that may not stand here, and those that may."""
    known = tuple(allowed)
    before = f"{place}: " if place else ""
    for key in data:
        if key not in known:
            yield f"{before}'{key}' is not known: write {', '.join(known)}"


def unknown_words(
    place: str, words: Iterable[str], allowed: Iterable[str]
) -> Iterator[str]:
    """Yield each word that is not allowed here, and each that stands twice."""
    known, seen = tuple(allowed), list(words)
    for word in dict.fromkeys(seen):
        if word not in known:
            yield f"{place}: '{word}' is none of {', '.join(known)}"
        if seen.count(word) > 1:
            yield f"{place}: '{word}' stands twice"


def asked(data: Data) -> list[str]:
    """Return the names of the conditions that the card asks for."""
    return [
        one if isinstance(one, str) else one.get("field", "")
        for one in data.get("asks", ())
    ]


def choices_of(data: Data, name: str) -> Sequence[str] | None:
    """Return the values of the condition *name*; None where it is not asked for."""
    about = find_field(name)
    if about is None or name not in asked(data):
        return None
    asks = [one for one in data["asks"] if isinstance(one, Mapping)]
    narrow = [
        one["choices"] for one in asks if one["field"] == name and "choices" in one
    ]
    if about.kind is Kind.YES_NO:
        return tuple(YES_NO)
    return narrow[0] if narrow else about.choices
