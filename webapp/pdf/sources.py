"""The sources of a card's readings, each printed once and numbered."""

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.words.sources import source_words

Doc = Mapping[str, Any]


class Sources:
    """Numbers the distinct sources in the order in which they are met."""

    def __init__(self, readings: Sequence[Doc]) -> None:
        """Collect the sources of *readings*."""
        self.all: list[str] = []
        self.recalled: set[str] = set()  # those that are from memory
        for reading in readings:
            for cite in reading["judgement"]["cite"]:
                words = source_words(cite)
                if words not in self.all:
                    self.all.append(words)
                if cite["provenance"] == "memory":
                    self.recalled.add(words)

    def marks(self, reading: Doc) -> str:
        """Return the numbers of a reading's sources, such as [1] [2]."""
        cites = reading["judgement"]["cite"]
        numbers = [self.all.index(source_words(cite)) + 1 for cite in cites]
        return " ".join(f"[{n}]" for n in dict.fromkeys(numbers))
