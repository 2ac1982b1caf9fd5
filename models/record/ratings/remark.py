"""A remark on ratings: how sure it is, where it stands, the sentence and its source."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from models.judging.rules import cite_words
from models.judging.wording import plain
from models.words import say

AS_PUBLISHED, LOOK_AGAIN, NOT_CHECKED = "as published", "look again", "not checked"
NAMED = 3  # things that a sentence names; of the others it says how many


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """What the comparison of ratings says of one place.

    *level* is `as published`, `look again` or `not checked`; *place* is that of the
    draft, such as `cells.3.apparatus.1.plate.rated_ka`; *cite* says in words where the
    sentence comes from, empty where nothing was compared. A remark never blocks
    anything.
    """

    level: str
    place: str
    text: str
    cite: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is to be looked at again; those of one sentence are said once."""

    place: str
    who: str
    sentence: str
    parts: Mapping[str, str]
    cite: str


def cited(cite: Mapping[str, str]) -> str:
    """Return a citation in words, without its opening word."""
    return cite_words(cite).removeprefix("Source: ")


def practice() -> str:
    """Return the source of what the trade holds to without a document."""
    return say("rating.practice")


def kv(value: float) -> str:
    """Return a voltage in kV as a plate says it."""
    return f"{plain(value)} kV"


def amperes(value: float) -> str:
    """Return a current in A as a plate says it."""
    return f"{plain(value)} A"


def together(findings: Sequence[Finding]) -> Iterator[Remark]:
    """Yield a remark for each sentence, naming all that it is said of."""
    groups: dict[tuple[str, str, str], list[Finding]] = {}
    for one in findings:
        key = (one.sentence, repr(sorted(one.parts.items())), one.cite)
        groups.setdefault(key, []).append(one)
    for held in groups.values():
        first = held[0]
        who = named([one.who for one in held])
        yield Remark(
            level=LOOK_AGAIN,
            place=first.place,
            text=say(first.sentence, who=who, **first.parts),
            cite=first.cite,
        )


def named(names: Sequence[str]) -> str:
    """Return some names in a row: the first few, and how many more there are."""
    names = list(dict.fromkeys(names))
    listed = ", ".join(names[:NAMED])
    more = len(names) - NAMED
    return say("rating.more", names=listed, count=str(more)) if more > 0 else listed
