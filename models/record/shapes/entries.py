"""What a tablet sends: entries, each with a key made on the tablet."""

from typing import Any, Literal, NotRequired, TypedDict

from models.record.shapes.safety import Person, Register, Scope
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
    heard_at: NotRequired[int | None]


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


class SentAct(TypedDict):
    """An act of safety; `key` becomes its id.

    Which members an act has: `models/record/shapes/safety.py`, the shape of its name.
    `heard_at` is the newest cursor that the tablet knew when it was made.
    """

    kind: Literal["safety"]
    key: str
    at: str
    heard_at: NotRequired[int | None]
    person: NotRequired[Person | None]  # who says it, where another has the tablet
    act: Literal[
        "open_crew",
        "extend_crew",
        "end_crew",
        "sign_off",
        "open_isolation",
        "list",
        "line",
        "enter",
        "leave",
        "change",
        "put_back",
        "open_return",
        "hand_back",
        "stop",
        "release",
        "override",
        "dc_off",
    ]
    agrees: NotRequired[bool]
    card: NotRequired[str]
    cause: NotRequired[str]
    cell: NotRequired[str]
    cells: NotRequired[list[str] | None]
    clearance: NotRequired[str]
    code: NotRequired[str]
    crew: NotRequired[str]
    dc_s: NotRequired[float]
    fields: NotRequired[dict[str, Any]]
    isolation: NotRequired[str | None]
    item: NotRequired[str | None]
    lineup: NotRequired[str]
    lineups: NotRequired[list[str]]
    names: NotRequired[list[str]]
    noted: NotRequired[dict[str, Any]]
    of: NotRequired[str]
    planned_end: NotRequired[str]
    put_right: NotRequired[str]
    reason: NotRequired[str | None]
    register: NotRequired[Register]
    scope: NotRequired[Scope]
    section: NotRequired[str | None]
    state: NotRequired[Literal["confirmed", "not_applicable"]]
    stays: NotRequired[dict[str, str]]
    stop: NotRequired[str]
    to: NotRequired[str]
    torque: NotRequired[str | None]
    what: NotRequired[str]


class Entries(TypedDict):
    """One call."""

    device: str
    entries: list[
        Confirm | SentReading | SentNote | SentDeficiency | CloseDeficiency | SentAct
    ]
