"""A file's name as people read it: harmless to show, to save and to open."""

import re
import unicodedata

LONGEST_NAME = 120  # characters
# Not kept by every file system, or read as a path or as a command by one.
UNSAFE = re.compile(r'[<>:"|?*\x00-\x1f\x7f]')
DEVICES = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)", re.IGNORECASE)


def clean_name(name: str, endings: tuple[str, ...]) -> str:
    r"""Return *name* without path and tricks, ending as its content says.

    `..\..\x.exe` of a picture becomes `x.exe.jpg`: what it was called stays to be
    read, and a machine opens it as a picture. *endings* are those of its content,
    the usual one first.
    """
    last = re.split(r"[\\/]", unicodedata.normalize("NFC", name))[-1]
    shown = "".join(c for c in last if not _is_hidden(c))
    shown = UNSAFE.sub("_", shown).strip(" .")
    stem, dot, ending = shown.rpartition(".")
    if not dot or f".{ending.lower()}" not in endings:
        stem, ending = shown, endings[0].removeprefix(".")
    stem = stem.strip(" .") or "file"
    if DEVICES.fullmatch(stem):
        stem = f"_{stem}"
    return f"{stem[: LONGEST_NAME - len(ending) - 1]}.{ending}"


def _is_hidden(character: str) -> bool:
    """Return whether it shows nothing, or turns the direction of what follows."""
    return unicodedata.category(character) in ("Cc", "Cf", "Cs", "Co", "Cn")
