"""The round document: all that a tablet needs to work on a round."""

from typing import Any, Literal, NotRequired, TypedDict

from models.record.shapes.card import Card
from models.record.shapes.safety import AnyAct, SafetyBook
from models.record.shapes.words import Role, RoundKind, RoundState


class DocumentPerson(TypedDict):
    """Who asked for it."""

    id: str
    name: str
    role: Role


class DocumentSite(TypedDict):
    """The site; times are shown in its zone."""

    id: str
    name: str
    address: str
    zone: str


class DocumentLineup(TypedDict):
    """The lineup, with its ratings in one line."""

    id: str
    name: str
    gear: str
    rated_kv: float
    ratings: str


class DocumentRound(TypedDict):
    """The round."""

    id: str
    title: str
    kind: RoundKind
    state: RoundState
    revision: int
    earlier_list: bool  # its cards are confirmed one by one, not by their scopes


class DocumentCell(TypedDict):
    """A cell with the ids of its cards, from the left."""

    id: str
    number: str
    name: str
    kind: str
    bus: str
    cards: list[str]


class Precondition(TypedDict):
    """An item of the list; `after`: answered after the test."""

    text: str
    source: str
    part: str
    after: bool


class Ask(TypedDict):
    """A condition that a card asks for."""

    name: str
    label: str
    unit: str
    required: bool
    choices: list[str]
    applied: bool  # whether the instrument itself brings it about
    when: NotRequired[dict[str, str]]  # what a point has to fix for it to be asked
    field: NotRequired[dict[str, Any]]


class DocumentProcedure(TypedDict):
    """What a card of a procedure asks for and takes."""

    title: str
    method: str
    units: list[str]
    default_unit: str
    asks: list[Ask]
    outcomes: list[str]
    series: list[dict[str, Any]]
    signed: NotRequired[bool]
    by_eye: NotRequired[bool]  # no instrument is needed
    waveform: NotRequired[str | bool]  # what a record may tell of it; True: a time
    questions: NotRequired[list[dict[str, Any]]]  # what its readings give to them


class AskedTogether(TypedDict):
    """A question that cards of one cell answer together.

    `known` are parts of the answer that nameplates say, `shown` lines of these.
    """

    question: str
    cell_id: str
    cards: list[str]
    known: dict[str, float]
    shown: list[list[str]]


class DocumentRange(TypedDict):
    """A range that an instrument reads or applies, and what is stated of it."""

    does: Literal["reads", "applies"]
    unit: str | None
    supply: Literal["ac", "dc"] | None
    low: float | None
    high: float | None
    pct_reading: float | None
    pct_range: float | None
    digits: float | None
    resolution: float | None
    fixed: float | None


class DocumentInstrument(TypedDict):
    """An instrument of the register with its newest calibration (days)."""

    id: str
    tag: str
    name: str
    serial: str
    procedures: list[str]
    retired: bool
    ranges: list[DocumentRange]
    calibrated_on: str | None
    due_on: str | None


class DocumentSafety(TypedDict):
    """What safety rests on; `cursor` is the number of the newest act it knows.

    `acts` are those of what stands on the site, or ended in the last 24 hours.
    """

    book: SafetyBook
    acts: list[AnyAct]
    cursor: int
    now: str


class RoundDocument(TypedDict):
    """The whole; the page adds `symbols`, what cells are drawn with.

    `cards_cursor` is the number of the log up to which the cards are as they stand:
    later changes come with `news.json`.
    """

    v: int
    made_at: str
    person: DocumentPerson
    site: DocumentSite
    lineup: DocumentLineup
    round: DocumentRound
    disclaimer: str
    cells: list[DocumentCell]
    preconditions: dict[str, Precondition]
    procedures: dict[str, DocumentProcedure]
    instruments: list[DocumentInstrument]
    questions: NotRequired[dict[str, dict[str, Any]]]  # not from older servers
    together: NotRequired[list[AskedTogether]]
    rules: dict[str, dict[str, Any]]
    cards: list[Card]
    cards_cursor: int
    safety: DocumentSafety
    symbols: NotRequired[dict[str, Any]]
