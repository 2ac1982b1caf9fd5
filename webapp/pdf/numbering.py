"""Numbers and counts in words."""

from collections.abc import Iterable, Sequence

DIGITS = "0123456789"


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


def code_runs(codes: Iterable[str]) -> str:
    """Return item codes with those that follow each other joined by a dash."""
    found: list[list[str]] = []
    for code in codes:
        if found and _follows(found[-1][-1], code):
            found[-1].append(code)
        else:
            found.append([code])
    return ", ".join(
        f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(run) for run in found
    )


def _follows(before: str, code: str) -> bool:
    """Whether *code* is the next number of the same list."""
    letters, digits = code.rstrip(DIGITS), code[len(code.rstrip(DIGITS)) :]
    first = before[len(letters) :]
    if not (digits and before.startswith(letters) and first.isdecimal()):
        return False
    return int(digits) == int(first) + 1


def count(number: int, one: str, many: str = "") -> str:
    """Return '1 card', '2 cards'."""
    return f"{number} {one if number == 1 else many or one + 's'}"
