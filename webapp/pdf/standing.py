"""What a package says of its round: the word, as the record inside holds it."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

Doc = Mapping[str, Any]


def current_readings(card: Doc) -> Iterator[Doc]:
    """Yield the readings of *card* that hold."""
    return (r for r in card["readings"] if not r["superseded_by"])


def verdict_counts(card: Doc) -> Counter[str]:
    """Return how many readings that hold have each verdict."""
    return Counter(r["judgement"]["verdict"] for r in current_readings(card))
