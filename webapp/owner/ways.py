"""Which way each quantity gets worse, in one sentence."""

from collections.abc import Iterable

from models.procedures import PROCEDURES
from models.words import in_sentence

WAYS = (("lower", "when it falls"), ("higher", "when it rises"), ("away", "either way"))


def ways_words(names: Iterable[str]) -> str:
    """Say of these procedures what counts when one is compared over the years."""
    compared = [PROCEDURES[name] for name in PROCEDURES if name in set(names)]
    parts = [
        f"{_listed(titles)} {words}"
        for way, words in WAYS
        if (titles := [in_sentence(p.title) for p in compared if p.worse == way])
    ]
    return f"What counts: {'; '.join(parts)}."


def _listed(titles: Iterable[str]) -> str:
    *others, last = titles
    return " and ".join(filter(None, (", ".join(others), last)))
