"""A citation in words, and a working without those that stand elsewhere."""

from collections.abc import Mapping
from typing import Any

from models.judging.rules import cite_words

PREFIX = "Source: "

Doc = Mapping[str, Any]


def source_words(cite: Doc) -> str:
    """Return a citation: document, edition, table, row, note, provenance."""
    return cite_words(cite).removeprefix(PREFIX)


def working_of(judgement: Doc) -> list[str]:
    """Return the working without its source lines, which are printed once a card."""
    printed = {cite_words(cite) for cite in judgement["cite"]}
    return [line for line in judgement["working"] if line not in printed]
