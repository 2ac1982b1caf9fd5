"""Safety as plain JSON: acts as they are sent and kept, and what stands by them.

An act is what somebody stated or did; acts are only ever added. What stands at a
moment is worked out from them by `models.record.safety` and, on the tablet, by
`webapp/static/field/safety/`; `tests/data/safety_scenes.json` holds both to one answer.
"""

from typing import Any, Literal, NotRequired, TypedDict

from models.criteria.safety.shapes import (
    BookField,
    BookLine,
    CardLists,
    Register,
    Scope,
)

__all__ = ["BookField", "BookLine", "CardLists", "Register", "Scope"]


class Person(TypedDict):
    """Who says it: *id* is null for somebody without an account."""

    id: str | None
    name: str


class Act(TypedDict):
    """What every act has; times are RFC 3339. `by` signed in on the tablet.

    `person` is who says it, where that is another than `by`.
    """

    id: str
    at: str
    arrived_at: str | None  # None while it waits on the tablet
    device: str
    by: Person
    person: NotRequired[Person]


class OpenCrew(Act):
    """Somebody takes charge of a shift."""

    act: Literal["open_crew"]
    crew: str
    lineups: list[str]
    planned_end: str


class ExtendCrew(Act):
    """The crew works on further lineups."""

    act: Literal["extend_crew"]
    crew: str
    lineups: list[str]


class EndCrew(Act):
    """The shift is over."""

    act: Literal["end_crew"]
    crew: str


class SignOff(Act):
    """A person leaves the crew."""

    act: Literal["sign_off"]
    crew: str


class OpenIsolation(Act):
    """A clearance is taken; section None: the whole lineup."""

    act: Literal["open_isolation"]
    isolation: str
    lineup: str
    section: str | None
    clearance: str


class ListItem(Act):
    """An item is put on a register, or written anew; `fields.gone` takes it off.

    `of` is the crew for set and place, the isolation for the others.
    """

    act: Literal["list"]
    register: Register
    of: str
    item: str
    fields: dict[str, Any]


class Line(Act):
    """A line is confirmed or does not apply.

    `of`: crew, isolation (isolation, return), cell (point) or card (test, after).
    """

    act: Literal["line"]
    scope: Scope
    of: str
    code: str
    item: str | None
    state: Literal["confirmed", "not_applicable"]
    reason: str | None
    noted: dict[str, Any]


class Enter(Act):
    """Somebody enters a cell; `stays` names who stays at the cells they held."""

    act: Literal["enter"]
    cell: str
    isolation: str | None
    crew: str
    stays: dict[str, str]  # cell -> name


class Leave(Act):
    """The cell is left."""

    act: Literal["leave"]
    cell: str


class Change(Act):
    """Something that lines rest on has changed; `what` is a change word."""

    act: Literal["change"]
    what: str
    of: str
    item: str | None
    cause: str


class PutBack(Act):
    """An entry of the put-back list is back in its place."""

    act: Literal["put_back"]
    isolation: str
    item: str
    torque: str | None


class OpenReturn(Act):
    """The clearance, or the part with these cells, is being returned."""

    act: Literal["open_return"]
    isolation: str
    cells: list[str] | None


class HandBack(Act):
    """The clearance, or the part with these cells, is handed back."""

    act: Literal["hand_back"]
    isolation: str
    cells: list[str] | None
    to: str


class Stop(Act):
    """Somebody stops the work: entry closes on the whole site."""

    act: Literal["stop"]
    stop: str


class Release(Act):
    """A named person lets the work go on."""

    act: Literal["release"]
    stop: str
    reason: str
    put_right: str
    agrees: bool  # whether the one who pressed agrees


class Override(Act):
    """A line, or a condition of the program, is set aside by name."""

    act: Literal["override"]
    scope: Scope
    of: str
    code: str
    reason: str
    names: list[str]


class DcOff(Act):
    """The dc of a card is off: its discharge timer begins at `at`."""

    act: Literal["dc_off"]
    card: str
    dc_s: float


AnyAct = (
    OpenCrew
    | ExtendCrew
    | EndCrew
    | SignOff
    | OpenIsolation
    | ListItem
    | Line
    | Enter
    | Leave
    | Change
    | PutBack
    | OpenReturn
    | HandBack
    | Stop
    | Release
    | Override
    | DcOff
)


class LineStanding(TypedDict):
    """A line that is asked for, and what stands of it."""

    code: str
    item: str | None  # of its register; a person's key for lines of each person
    state: Literal["open", "given", "not_applicable", "overridden", "lapsed"]
    by: str | None
    at: str | None
    noted: dict[str, Any]
    reason: str | None
    lapsed_by: str | None  # a change word
    lapsed_at: str | None


class ScopeStanding(TypedDict):
    """What stands of a scope; `since` and `by` of its last line, once it stands."""

    scope: Scope
    of: str | None
    state: Literal["none", "filling", "stands", "lapsed", "ended"]
    since: str | None
    by: str | None
    cause: str | None  # a change word
    at: str | None  # when it lapsed or ended
    lines: list[LineStanding]


class Reason(TypedDict):
    """Why a card is closed: a key of the sentences, and what they name."""

    code: str
    facts: dict[str, Any]


class StopStanding(TypedDict):
    """A stop that is in force."""

    stop: str
    by: str
    at: str
    device: str


class CardStanding(TypedDict):
    """What stands for one card, for the person who records on it."""

    open: bool
    reasons: list[Reason]
    crew: ScopeStanding
    isolation: ScopeStanding
    point: ScopeStanding
    test: ScopeStanding
    after: ScopeStanding


class CrewPerson(TypedDict):
    """Somebody of a crew; `key` is their id, or 'name:' and the name in lower case."""

    key: str
    name: str
    since: str | None  # when their own lines were complete
    left: str | None


class RegisterItem(TypedDict):
    """An item of a register as it was last written."""

    item: str
    fields: dict[str, Any]
    by: str
    at: str
    off_for: str | None  # the card a ground is off for, or a spring is charged for
    back: dict[str, Any] | None  # put-back list: by, at, torque


class CrewStanding(ScopeStanding):
    """A crew."""

    in_charge: str | None
    lineups: list[str]
    planned_end: str
    people: list[CrewPerson]
    releasers: list[str]
    sets: list[RegisterItem]
    places: list[RegisterItem]


class IsolationStanding(ScopeStanding):
    """A clearance on a lineup or a section of it."""

    clearance: str
    lineup: str
    section: str | None
    holder: str | None
    people: list[CrewPerson]
    sources: list[RegisterItem]
    grounds: list[RegisterItem]
    put_back: list[RegisterItem]
    returned_cells: list[str]
    returning: ScopeStanding  # the return, of the whole or of a part
    returning_cells: list[str] | None


class PointStanding(ScopeStanding):
    """A cell for its holder."""

    holder: str | None
    crew: str | None
    entered: str | None
    inside: bool  # from entering to leaving


class SiteStanding(TypedDict):
    """What stands on a site."""

    stop: StopStanding | None
    crews: list[CrewStanding]
    isolations: list[IsolationStanding]
    points: dict[str, PointStanding]  # by cell


class SafetySettings(TypedDict):
    """The figures of the site."""

    rule_set: str
    rule_set_text: str
    shift_hours: float
    idle_minutes: float
    discharge_least_s: float


class SafetyBook(TypedDict):
    """All that a reader needs besides the acts."""

    settings: SafetySettings
    governs: str  # the sentence of whose rules govern
    lines: dict[str, BookLine]
    fields: dict[str, BookField]
    registers: dict[str, list[str]]  # register -> fields of its items
    cautions: dict[str, str]
    changes: dict[str, str]  # change word -> what it says to a person
    crew: list[str]
    isolation: list[str]
    returning: list[str]
    point: dict[str, list[str]]  # by cell
    cards: dict[str, CardLists]  # by card
    lineups: dict[
        str, dict[str, Any]
    ]  # by lineup: name, gear, cells {id: {number, name, bus}}
    people: list[Person]
