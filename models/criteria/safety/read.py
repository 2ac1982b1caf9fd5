"""Read a table of a file strictly: an unknown key or a wrong type is a fault."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from models.criteria.safety.line import Sources
from models.criteria.safety.words import PROVENANCES
from models.errors import CriteriaError

Data = Mapping[str, Any]
SHAPES: Mapping[str, str] = {
    "text": "a text",
    "texts": "a list of texts",
    "table": "a table",
    "tables": "a list of tables",
    "flag": "true or false",
}


class Place:
    """Where in the files something stands, for the faults; and the faults so far."""

    def __init__(self, faults: list[str], *names: str) -> None:
        self._faults = faults
        self._names = names

    def at(self, *names: str) -> "Place":
        """Return a place further in."""
        return Place(self._faults, *self._names, *names)

    def fault(self, text: str) -> None:
        """Note what is wrong here."""
        self._faults.append(f"{', '.join(self._names)}: {text}")

    def known(self, words: Iterable[str], allowed: Iterable[str]) -> None:
        """Note each word that may not stand here, and each that stands twice."""
        may, seen = list(allowed), list(words)
        for word in dict.fromkeys(seen):
            if word not in may:
                self.fault(f"'{word}' is none of {', '.join(may)}")
            if seen.count(word) > 1:
                self.fault(f"'{word}' stands twice")

    def table(self, data: Data, shapes: Mapping[str, str], must: Iterable[str]) -> bool:
        """Whether *data* has the keys that it must, no other, each of its shape."""
        before = len(self._faults)
        for key, value in data.items():
            if key not in shapes:
                self.fault(f"'{key}' is not known: write {', '.join(shapes)}")
            elif not _is(value, shapes[key]):
                self.fault(f"'{key}' is not {SHAPES[shapes[key]]}")
        for key in must:
            if not data.get(key):
                self.fault(f"'{key}' is missing")
        return len(self._faults) == before

    def sources(self, data: Data) -> Sources:
        """Return the sources that *data* names; none at all is a fault."""
        found = {word: tuple(data.get(word, ())) for word in PROVENANCES}
        if not any(found.values()):
            self.fault(f"no source: write one of {', '.join(PROVENANCES)}")
        if "" in found["published"]:
            self.fault("a published source has no name")
        return Sources(**found)


SOURCES: Mapping[str, str] = dict.fromkeys(PROVENANCES, "texts")


def _is(value: object, shape: str) -> bool:
    if shape == "texts":
        return isinstance(value, list) and all(isinstance(o, str) for o in value)
    if shape == "tables":
        return isinstance(value, list) and all(isinstance(o, dict) for o in value)
    return isinstance(value, {"text": str, "table": dict, "flag": bool}[shape])


def refuse(faults: Sequence[str]) -> None:
    """CriteriaError with every fault, if there is one."""
    if faults:
        raise CriteriaError("; ".join(faults))
