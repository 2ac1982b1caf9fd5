"""A module's code without comments, line by line.

Only comments that have lines of their own are taken out, so nothing has to be known of
strings and regular expressions; what would need that is refused.
"""

OPENS, CLOSES = "/*", "*/"


class JoinError(ValueError):
    """A module is not written as the joiner reads it: a developer mends it."""

    def __init__(self, address: str, line: int, fault: str) -> None:
        """Say which line of which module, and what is wrong with it."""
        super().__init__(f"{address}, line {line}: {fault}")


def bare_code(address: str, text: str) -> str:
    """Return the code without its comments and empty lines; JoinError."""
    kept: list[str] = []
    inside = False
    for number, line in enumerate(text.split("\n"), start=1):
        bare = line.strip()
        if inside or bare.startswith(OPENS):
            inside = CLOSES not in bare
            if not inside and not bare.endswith(CLOSES):
                raise JoinError(address, number, "Code stands after a comment.")
        elif bare and not bare.startswith("//"):
            _refuse_many_lines(address, number, bare)
            kept.append(line)
    return "".join(f"{line}\n" for line in kept)


def _refuse_many_lines(address: str, number: int, line: str) -> None:
    """What begins like a comment must be one: no text goes over several lines."""
    if line.count("`") % 2:
        raise JoinError(address, number, "A template ends on the line it begins on.")
    if line.endswith("\\"):
        raise JoinError(address, number, "A text ends on the line it begins on.")
