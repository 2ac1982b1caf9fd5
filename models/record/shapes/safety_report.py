"""What a package says of safety: the rows of one page, and every statement behind them.

`models.record.safety_report` works it out from the acts; `webapp.pdf.safety_page` and
`webapp.pdf.attachments` print and attach it.
"""

from typing import Any, Literal, TypedDict

ExceptionKind = Literal[
    "not_applicable",  # a line does not apply
    "override",  # a line, or a condition of the program, was set aside
    "lapse",  # something that lines rest on changed, or a crew stopped standing
    "stop",  # work was stopped
    "outside",  # a reading was taken outside a standing scope
    "not_put_back",  # an entry of the put-back list is open
]


class SafetyStatement(TypedDict):
    """One act whole: who says it, on whose tablet, when, and what is noted with it.

    `act` is the kind of act; what is not a line has no code, wording and source.
    `on` is who signed in on the tablet, where that is another than `by`.
    """

    id: str
    act: str
    scope: str
    of: str
    where: str  # for people: "shift 1", "clearance 4711", "cell 3", "card 5"
    code: str
    text: str
    source: str
    item: str  # what of a register, or whom, the line is about
    state: str
    reason: str
    noted: dict[str, Any]  # as it was sent
    said: list[list[str]]  # the same for people: label, value
    by: str
    on: str
    device: str
    at: str
    arrived_at: str


class CrewRow(TypedDict):
    """A shift: *end* says how it came to its end, and is empty while it lasts."""

    shift: int
    opened_at: str
    closed_at: str | None
    end: str
    in_charge: str
    people: list[str]
    releasers: list[str]
    weather: list[str]
    air: list[str]


class PartReturned(TypedDict):
    """A part of a clearance, or the whole, as it was handed back."""

    cells: list[str]  # numbers; empty: the whole
    at: str
    by: str
    to: str


class ClearanceRow(TypedDict):
    """A clearance; each isolating point with its lock, each ground with its place.

    `grounds_on` were put on the register, `grounds_off` taken off it; `counted` is
    what was counted before the clearance was handed back: on, off.
    """

    number: str
    section: str
    holder: str
    opened_at: str
    closed_at: str | None
    points: list[str]
    grounds_on: int
    grounds_off: int
    counted: list[str]
    grounds: list[str]
    parts: list[PartReturned]
    returned: PartReturned | None


class CellRow(TypedDict):
    """A cell that somebody entered; *times* are all its entries."""

    number: str
    name: str
    entered: list[str]
    holders: list[str]
    detectors: list[str]
    grounds: list[str]
    density: list[str]


class CardsRow(TypedDict):
    """The cards in one sentence; *in_time* is worked out, never taken for granted.

    It is true where every reading was taken while its scopes stood, and what is to
    be stated after the last reading is stated on every card that has one.
    """

    cards: int  # with a reading that went by scopes
    before: int
    after: int
    people: int
    readings: int
    outside: int
    after_open: list[int]  # sheets of cards whose after-lines are open
    in_time: bool


class SafetyException(TypedDict):
    """What is not as usual; members that do not fit the kind are empty.

    `card` and `reading` are ids, of what the exception is about.
    """

    card: str
    reading: str
    kind: ExceptionKind
    at: str
    until: str | None  # a stop: when it was released
    where: str
    code: str
    what: str  # the line's wording, the cause of a lapse, what is not put back
    reason: str
    by: str
    names: list[str]  # who agreed to an override; who released a stop
    agreed: bool | None  # whether the one who pressed agrees to the release
    sheets: list[int]  # cards that it closed


class SafetyReport(TypedDict):
    """The page; `digest` is the SHA-256 of the attached file, in hex."""

    rule_set: str
    rule_set_text: str
    governs: str
    crews: list[CrewRow]
    clearances: list[ClearanceRow]
    cells: list[CellRow]
    cards: CardsRow
    exceptions: list[SafetyException]
    lines: int
    file: str
    digest: str
    statements: list[SafetyStatement]


class CardSafety(TypedDict):
    """A card's one line: the shifts, clearances and cell that it rests on."""

    shifts: list[int]
    clearances: list[str]
    cell: str
    before: int
    after: int


class AttachedSafety(TypedDict):
    """The attached file: every statement, and the record that they belong to."""

    schema: Literal["witnessmark-safety-1"]
    record: str
    revision: int
    statements: list[SafetyStatement]
