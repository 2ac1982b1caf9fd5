"""The four verdicts, and how many readings have each."""

from collections.abc import Iterable

VERDICTS = ("within", "marginal", "outside", "unjudged")


def count_verdicts(verdicts: Iterable[str]) -> dict[str, int]:
    """Return how often each verdict is among *verdicts*, all four in order.

    A word that is no verdict raises KeyError: it would be counted nowhere.
    """
    counts = dict.fromkeys(VERDICTS, 0)
    for verdict in verdicts:
        counts[verdict] += 1
    return counts
