"""A card as plain JSON, as the tablet and the package hold it."""

from typing import Any, Literal, NotRequired, TypedDict

from models.record.shapes.words import (
    CardState,
    DecisionWord,
    Severity,
    Verdict,
)


class Act(TypedDict):
    """What somebody did, why, and when (RFC 3339, UTC)."""

    reason: str
    by: str
    at: str


class Answer(TypedDict):
    """What a second person answered to a decision of the lead."""

    answer: Literal["agreed", "refused"]
    reason: str | None
    by: str
    at: str


class Withdrawal(Act):
    """A card taken out of the programme, with the answer of a second person."""

    answer: Answer | None


class Confirmed(TypedDict):
    """A precondition that somebody answered."""

    code: str
    state: Literal["confirmed", "not_applicable"]
    reason: str | None
    by: str
    at: str


class Disposition(TypedDict):
    """The lead's decision on a reading, while it holds."""

    decision: DecisionWord
    decision_text: str
    reason: str
    by: str
    at: str
    answer: Answer | None


class Reading(TypedDict):
    """A reading with the judgement and the disposition that hold."""

    id: str
    point_id: str
    text: str
    unit: str | None
    conditions: dict[str, Any]
    instrument_id: str
    instrument: str
    calibrated: bool
    by: str
    by_id: NotRequired[str]  # not in packages made before safety had scopes
    taken_at: str
    arrived_at: str
    supersedes: str | None
    superseded_by: str | None
    reason: str | None
    judgement: dict[str, Any]  # as `witnessmark judge --json` prints it
    disposition: Disposition | None
    judged_before: NotRequired[list[dict[str, Any]]]


class Deficiency(TypedDict):
    """Something to be put right, with its closing."""

    id: str
    number: str
    text: str
    severity: Severity
    severity_text: str
    holder: str
    reading_id: str | None
    card_id: str
    state: Literal["open", "closed"]
    raised_by: str
    raised_at: str
    closed_by: str | None
    closed_at: str | None
    closing_text: str | None
    closing_reading_id: str | None


class Note(TypedDict):
    """A remark."""

    text: str
    by: str
    at: str


class Signature(TypedDict):
    """A signature as performed; one that was voided by a return does not hold."""

    by: str
    meaning: Literal["performed"]
    at: str
    key: str
    holds: bool


class Performer(TypedDict):
    """Somebody who took a reading that holds, and what they say by signing."""

    id: str
    name: str
    signed: bool
    statement: str


class InspectionNotice(TypedDict):
    """The party was told when the work is done."""

    given_at: str
    work_at: str
    how: str
    by: str


class InspectionAnswer(TypedDict):
    """What came of a point; *own*: the party itself answered, with its password."""

    answer: Literal["released", "present", "absent", "reviewed", "withdrawn"]
    answer_text: str
    remark: str | None
    by: str
    at: str
    own: bool


class Inspection(TypedDict):
    """A hold, witness or review point of a card."""

    id: str
    kind: Literal["hold", "witness", "review"]
    kind_text: str
    party: str
    own_account: bool
    notice_hours: float
    reason: str
    by: str
    at: str
    notices: list[InspectionNotice]
    answer: InspectionAnswer | None


class BaselineValue(TypedDict):
    """What the acceptance round read at a point, corrected."""

    text: str
    unit: str | None
    verdict: Verdict
    value: float | None
    value_unit: str | None
    over_range: bool
    under_range: bool
    limit_low: float | None
    limit_high: float | None
    uncertainty: float | None
    recalled: bool
    reading_id: str
    at: str
    judged_again: dict[str, Any] | None
    rows: dict[str, Any]


class Point(TypedDict):
    """Where a reading is taken; `rule_id` names its rule in the document."""

    id: str
    label: str
    group: str
    rule_id: str
    given: dict[str, Any]
    baseline: BaselineValue | None


class Identity(TypedDict):
    """What tells an apparatus from its like, as far as it is known."""

    maker: str | None
    type: str | None
    serial: str | None
    built_year: int | None


class CardApparatus(Identity):
    """The apparatus that a card is for."""

    id: str
    label: str
    kind: str


class CardAttachment(TypedDict):
    """A file on record at a card: its name and note, not what is in it."""

    id: str
    name: str
    note: str
    by: str
    at: str
    deficiency_id: NotRequired[str | None]  # the one that it is attached to, if to one


class Card(TypedDict):
    """A card whole: the unit of refresh."""

    id: str
    cell_id: str
    apparatus: CardApparatus
    procedure: str
    title: str
    detail: str
    position: int
    state: CardState
    assigned_to: str | None
    returned: Act | None
    withdrawn: Withdrawal | None
    unit: str
    defaults: dict[str, Any]
    preconditions: list[str]
    confirmed: list[Confirmed]
    points: list[Point]
    readings: list[Reading]
    notes: list[Note]
    deficiencies: list[Deficiency]
    signatures: list[Signature]
    performers: list[Performer]
    inspections: list[Inspection]
    attachments: NotRequired[list[CardAttachment]]  # in the round document alone
