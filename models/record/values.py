"""What is recorded on a card, as values that nobody changes."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Protocol
from uuid import UUID

SEVERITIES = {
    "stops_turnover": "stops turnover",
    "may_follow": "may follow turnover",
}
DECISIONS = {
    "use_as_is": "use as it is",
    "accept_with_limits": "accept with limits on its use",
    "reject": "reject: to be put right",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a second person answered to a lead's decision: agreed or refused."""

    answer: str
    reason: str | None
    by: str
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """A lead's decision on a reading that is not within."""

    decision: str  # a key of DECISIONS
    reason: str
    by: str
    at: datetime
    answer: Answer | None = None

    @property
    def lets_stand(self) -> bool:
        """Whether the lead lets the reading stand."""
        return self.decision != "reject"

    @property
    def agreed(self) -> bool:
        """Whether a second person agreed."""
        return self.answer is not None and self.answer.answer == "agreed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A reading with the verdict and the decision that hold."""

    id: UUID
    point_id: UUID
    point: str
    said: str  # the value as typed, with its unit
    by_id: UUID
    by: str
    taken_at: datetime
    verdict: str
    decision: Decision | None = None
    supersedes: UUID | None = None
    superseded: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """How a deficiency was put right."""

    text: str
    by: str
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Deficiency:
    """Something to be put right."""

    number: int
    text: str
    severity: str  # a key of SEVERITIES
    holder: str
    by: str
    at: datetime
    closing: Closing | None = None

    @property
    def name(self) -> str:
        """The number as people say it."""
        return f"D-{self.number:03d}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawal:
    """A card taken out of the programme."""

    reason: str
    by: str
    at: datetime
    answer: Answer | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirmation:
    """A precondition that somebody answered."""

    code: str
    by_id: UUID
    by: str
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Signature:
    """A signature as performed."""

    by_id: UUID
    by: str
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """Where a reading is taken."""

    id: UUID
    label: str


class Scopes(Protocol):
    """What the acts of safety say of a card, by all that have arrived."""

    begun: bool  # whether one of them is about the card

    @property
    def open_after(self) -> Sequence[str]:
        """The codes of what is still to be confirmed after the readings."""

    def outside(self, reading_id: UUID) -> Sequence[Mapping[str, Any]]:
        """Return why the card was closed when a reading was taken; empty: open."""

    def confirmers(self, reading_ids: Collection[UUID]) -> list[str]:
        """Return who confirmed lines of the test by the last of these readings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """Everything on one card that decides what may be said of it."""

    id: UUID
    cell_id: UUID
    where: str
    title: str
    points: tuple[Point, ...]
    # Of the list in force before safety stood at its scopes: what is to be answered
    # before the first reading, and after the last. A card that goes by its scopes
    # alone has neither.
    before: tuple[str, ...]
    after: tuple[str, ...]
    confirmations: tuple[Confirmation, ...] = ()
    readings: tuple[Reading, ...] = ()
    deficiencies: tuple[Deficiency, ...] = ()
    signatures: tuple[Signature, ...] = ()
    returned: datetime | None = None  # when it was last handed back
    withdrawal: Withdrawal | None = None
    noted: bool = False
    required: bool = True
    turned_over: bool = False
    scopes: Scopes | None = None  # None: it goes by the list

    @property
    def holding(self) -> tuple[Reading, ...]:
        """The readings that hold."""
        return tuple(r for r in self.readings if not r.superseded)
