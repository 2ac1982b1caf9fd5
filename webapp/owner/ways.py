"""Which way each quantity gets worse, in one sentence."""

from collections.abc import Iterable

from models.procedures import PROCEDURES

WAYS = (("lower", "when it falls"), ("higher", "when it rises"), ("away", "either way"))


def ways_words() -> str:
    """Say of every procedure that is compared over the years what counts."""
    parts = [
        f"{_listed(titles)} {words}"
        for way, words in WAYS
        if (titles := [p.title.lower() for p in PROCEDURES.values() if p.worse == way])
    ]
    return f"What counts: {'; '.join(parts)}."


def _listed(titles: Iterable[str]) -> str:
    *others, last = titles
    return " and ".join(filter(None, (", ".join(others), last)))
