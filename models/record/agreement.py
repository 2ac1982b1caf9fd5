"""Who has to agree to a lead's decision, and what its reason must be."""

from dataclasses import dataclass
from uuid import UUID

LEAST_REASON = 20  # characters
LEAST_WORDS = 3  # different ones


@dataclass(frozen=True, slots=True, kw_only=True)
class Somebody:
    """A person who may be asked to agree."""

    id: UUID
    roles: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A decision that needs the agreement of a second person."""

    kind: str  # reading: an outside one let stand; card: one withdrawn
    decided_by: UUID
    taken_by: UUID | None  # who took the reading
    owner_has_people: bool  # somebody of the owner's can be asked


def why_not_agree(question: Question, person: Somebody) -> str:
    """Return why *person* is not the one to answer; empty where they are.

    An outside reading is the owner's person's to agree to, where there is one; a
    withdrawn card theirs or a second lead's.
    """
    if person.id == question.decided_by:
        return "You decided this yourself: a second person has to agree to it."
    if "owner" in person.roles:
        return ""
    if "lead" not in person.roles:
        return "The owner's representative or a second lead agrees to this."
    if question.kind == "reading" and question.owner_has_people:
        return "The owner's representative agrees to this: there is one for this site."
    if person.id == question.taken_by:
        return "You took this reading yourself: a second person has to agree to it."
    return ""


STAND = "why an outside reading may stand: what was found, and why it does no harm"


def weak_reason(text: str, wanted: str = STAND) -> str:
    """Return what a reason lacks that is to say *wanted*, or empty."""
    words = {word.strip(".,;:!?").casefold() for word in text.split()}
    if len("".join(text.split())) >= LEAST_REASON and len(words) >= LEAST_WORDS:
        return ""
    return f"Say {wanted}, in at least {LEAST_WORDS} words and {LEAST_REASON} letters."
