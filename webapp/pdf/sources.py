"""The sources of a card's readings, each printed once and numbered."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.judging.rules import cite_words

PREFIX = "Source: "

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


def source_words(cite: Doc) -> str:
    """Return a citation: document, edition, table, row, note, provenance."""
    return cite_words(cite).removeprefix(PREFIX)


def working_of(judgement: Doc) -> list[str]:
    """Return the working without its source lines, which are printed once a card."""
    printed = {cite_words(cite) for cite in judgement["cite"]}
    return [line for line in judgement["working"] if line not in printed]
