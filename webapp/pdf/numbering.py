"""Numbers and counts in words."""

from collections.abc import Iterable, Sequence


def runs(numbers: Iterable[int]) -> str:
    """Return numbers in order, three and more in a row as the first to the last."""
    found: list[list[int]] = []
    for number in sorted(set(numbers)):
        if found and number == found[-1][-1] + 1:
            found[-1].append(number)
        else:
            found.append([number])
    return ", ".join(_run(run) for run in found)


def _run(run: Sequence[int]) -> str:
    if len(run) > 2:
        return f"{run[0]}–{run[-1]}"
    return ", ".join(map(str, run))


def count(number: int, one: str, many: str = "") -> str:
    """Return '1 card', '2 cards'."""
    return f"{number} {one if number == 1 else many or one + 's'}"
