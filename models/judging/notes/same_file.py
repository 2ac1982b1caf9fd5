"""Whether a relay's settings as issued and as read back are one file to the byte."""

import re
from collections.abc import Iterator

from models.judging.notes.placing import Made
from models.judging.notes.vocabulary import Note
from models.judging.state import State
from models.words import say as sentence

ISSUED, READ = "issued_digest", "read_digest"
DIGEST = re.compile(r"[0-9a-f]{64}\Z")  # SHA-256, FIPS 180-4
SAID = 12  # digits that people compare


def make() -> Made:
    """Return the note; what it needs are the conditions with the two digests."""
    return Made({"say": "same_file", "issued": ISSUED, "read": READ}, ())


def say(state: State, note: Note) -> Iterator[str]:
    """Say whether both digests are alike; nothing without both."""
    digests = [_digest(state, note[place]) for place in ("issued", "read")]
    if not all(digests):
        return
    if any(DIGEST.match(one) is None for one in digests):
        yield sentence("same_file.unreadable")
        return
    issued, read = digests
    parts = {"issued": issued[:SAID], "read": read[:SAID]}
    yield sentence("same_file" if issued == read else "same_file.differ", **parts)


def _digest(state: State, name: str) -> str:
    """Return the digest as typed, without spaces and in small letters."""
    return re.sub(r"[ \t\r\n]", "", str(state.conditions.get(name) or "")).lower()
