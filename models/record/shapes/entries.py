"""What a tablet sends: entries, each with a key made on the tablet."""

from typing import Any, Literal, NotRequired, TypedDict

from models.record.shapes.words import Severity


class Envelope(TypedDict):
    """What every entry has; `at` is RFC 3339 with the zone's offset."""

    key: str
    card_id: str
    at: str


class Confirm(Envelope):
    """A precondition, confirmed or found not applicable."""

    kind: Literal["confirm"]
    code: str
    state: Literal["confirmed", "not_applicable"]
    reason: NotRequired[str | None]


class SentReading(Envelope):
    """A reading as typed."""

    kind: Literal["reading"]
    point_id: str
    text: str
    unit: NotRequired[str | None]
    conditions: NotRequired[dict[str, Any]]
    instrument_id: str
    supersedes: NotRequired[str | None]
    reason: NotRequired[str | None]


class SentNote(Envelope):
    """A remark."""

    kind: Literal["note"]
    text: str


class SentDeficiency(Envelope):
    """Something to be put right."""

    kind: Literal["deficiency"]
    text: str
    severity: Severity
    holder: str
    reading_id: NotRequired[str | None]


class CloseDeficiency(Envelope):
    """How it was put right, with the retest."""

    kind: Literal["close_deficiency"]
    deficiency_id: str
    reading_id: NotRequired[str | None]
    text: str


class Entries(TypedDict):
    """One call."""

    device: str
    entries: list[Confirm | SentReading | SentNote | SentDeficiency | CloseDeficiency]
