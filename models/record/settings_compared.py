"""Two lists of a relay's settings, compared line by line.

A line is `name = value`, `name: value`, `name,value` or `name<tab>value`; blank lines
and those that begin with # or ; say nothing.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256

from models.errors import Fault, InputError

MOST_LINES = 5000
MOST_BYTES = 1_000_000
_LINE = re.compile(r"^\s*(?P<name>[^=:,;\t]+?)\s*(?:=|:|,|;|\t)\s*(?P<value>.*?)\s*$")
_QUIET = re.compile(r"^\s*(?:$|[#;])")
_BREAKS = re.compile(r"\r\n|\r|\n")

ADDED, MISSING, DIFFERS = "added", "missing", "differs"


@dataclass(frozen=True, slots=True)
class Difference:
    """A setting in which two lists are not alike; empty where a list lacks it."""

    word: str  # added, missing or differs
    name: str
    issued: str
    read: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """What comparing found; *same_file*: both are alike to the byte."""

    differences: tuple[Difference, ...]
    alike: int
    same_file: bool
    issued_digest: str  # SHA-256, hexadecimal
    read_digest: str


def compare_settings(issued: bytes, read: bytes) -> Compared:
    """Compare the settings that were issued with those that were read back.

    Numbers are compared as numbers: 0.50 is 0.5. Raises InputError at `issued` or
    `read` with each line that is no setting, and with each that stands twice.
    """
    faults: list[Fault] = []
    before = _settings("issued", issued, faults)
    after = _settings("read", read, faults)
    if faults:
        raise InputError(*faults)
    found = tuple(_differences(before, after))
    digests = [sha256(content).hexdigest() for content in (issued, read)]
    return Compared(
        differences=found,
        alike=sum(1 for name in before if name in after)
        - sum(1 for one in found if one.word == DIFFERS),
        same_file=digests[0] == digests[1],
        issued_digest=digests[0],
        read_digest=digests[1],
    )


def _differences(
    before: Mapping[str, str], after: Mapping[str, str]
) -> Iterator[Difference]:
    for name, value in before.items():
        if name not in after:
            yield Difference(MISSING, name, value, "")
        elif not _same(value, after[name]):
            yield Difference(DIFFERS, name, value, after[name])
    for name, value in after.items():
        if name not in before:
            yield Difference(ADDED, name, "", value)


def _same(one: str, other: str) -> bool:
    if one == other:
        return True
    try:
        return float(one) == float(other)
    except ValueError:
        return False


def _settings(place: str, content: bytes, faults: list[Fault]) -> dict[str, str]:
    """Return value by name; what cannot be read goes to *faults*."""
    text = _text(place, content, faults)
    found: dict[str, str] = {}
    lines = _BREAKS.split(text)
    if len(lines) > MOST_LINES:
        message = f"These are {len(lines)} lines; {MOST_LINES} are taken."
        faults.append(Fault(field=place, message=message))
        return found
    for number, line in enumerate(lines, start=1):
        if _QUIET.match(line):
            continue
        read = _LINE.match(line)
        name = read["name"] if read else ""
        if read is None:
            message = f"Line {number} is no setting: write 'name = value'."
            faults.append(Fault(field=place, message=message))
        elif name in found:
            message = f"Line {number}: '{name}' stands twice."
            faults.append(Fault(field=place, message=message))
        else:
            found[name] = read["value"]
    if text and not found and not faults:
        faults.append(Fault(field=place, message="No setting stands in it."))
    return found


def _text(place: str, content: bytes, faults: list[Fault]) -> str:
    if not content:
        faults.append(Fault(field=place, message="Choose a file, or paste the list."))
        return ""
    if len(content) > MOST_BYTES:
        message = f"The list is larger than {MOST_BYTES // 1000} kB."
        faults.append(Fault(field=place, message=message))
        return ""
    for encoding in ("utf-8-sig", "latin-1"):
        try:
            return content.decode(encoding)
        except UnicodeDecodeError:
            continue
    return ""
