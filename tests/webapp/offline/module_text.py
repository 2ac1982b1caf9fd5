"""The text of the tablet's modules, and how much of it is code."""

import re
from pathlib import Path

OFFLINE = Path(__file__).parents[3] / "webapp" / "offline"

# What is kept as it stands (strings, regular expressions), or a comment. A division
# never follows one of these signs, a regular expression always does.
_PIECE = re.compile(
    r"""(?P<kept> "(?:[^"\\\n]|\\.)*" | '(?:[^'\\\n]|\\.)*' | `(?:[^`\\]|\\.)*`
      | (?<=[(=,:?!&|\[]) \s* /(?![/*]) (?:[^/\\\[\n]|\\.|\[(?:[^\]\\\n]|\\.)*\])+ / )
      | (?P<comment> /\*.*?\*/ | //[^\n]* )""",
    re.DOTALL | re.VERBOSE,
)


def module_text(name: str) -> str:
    """Return a module's source."""
    return (OFFLINE / name).read_text("utf-8")


def code_of(source: str) -> str:
    """Return a module's source without comments and blank lines."""
    stripped = _PIECE.sub(lambda found: found["kept"] or "", source)
    lines = (line.rstrip() for line in stripped.split("\n"))
    return "".join(f"{line}\n" for line in lines if line)


def strings_of(source: str) -> list[str]:
    """Return the strings of a module, without what templates put in."""
    kept = [found["kept"] for found in _PIECE.finditer(source) if found["kept"]]
    return [re.sub(r"\$\{[^}]*\}", "", text) for text in kept if text[0] in "\"'`"]
