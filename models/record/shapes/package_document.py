"""The package document: the one value that pages and signatures are made from.

Measured values and every other float stand as text in it.
"""

from typing import Any, Literal, NotRequired, TypedDict

from models.record.shapes.card import (
    Deficiency,
    Disposition,
    Identity,
    Inspection,
    Note,
    Reading,
    Withdrawal,
)
from models.record.shapes.safety_report import CardSafety, SafetyReport
from models.record.shapes.words import CardState, Conformity, RoundKind, Verdict


class Party(TypedDict):
    """An organisation."""

    name: str
    address: str


class PackageDeviation(TypedDict):
    """What the round conforms with, who let it stand and who agreed."""

    kind: Literal["reading", "deficiency", "card"]
    card_id: str
    where: str
    what: str
    verdict: Verdict | None
    decided: str
    reason: str
    by: str
    at: str
    agreed_by: str | None
    agreed_at: str | None


class PackageConformity(TypedDict):
    """What may be said of the round, why, and with which deviations."""

    word: Conformity
    reasons: list[str]
    deviations: list[PackageDeviation]


class PackageLineup(TypedDict):
    """The lineup with its nameplate, line by line: label, value."""

    name: str
    gear: str
    nameplate: list[list[str]]


class PackageRound(TypedDict):
    """The round, with the time of its first and last reading."""

    id: str
    title: str
    kind: RoundKind
    programme: str
    opened_at: str
    first_reading_at: str | None
    last_reading_at: str | None


class PackageChange(TypedDict):
    """A card that was left out of the programme, added, or given other points.

    `was` are the points as the programme or the baseline gives them.
    """

    what: Literal["left_out", "added", "points"]
    where: str
    title: str
    detail: str
    was: list[str]
    points: list[str]
    reason: str
    by: str
    at: str


class PackageEdition(TypedDict):
    """The print of a table that was asked for when the round was planned."""

    table: str
    title: str
    print: str
    cited_as: str
    document: str


class PackagePlan(TypedDict):
    """What was otherwise than the programme, and the editions named."""

    changes: list[PackageChange]
    editions: list[PackageEdition]


class PackageSummary(TypedDict):
    """Counts of the readings that hold, of cards and deficiencies."""

    cards: int
    cards_withdrawn: int
    readings: int
    within: int
    marginal: int
    outside: int
    unjudged: int
    superseded: int
    deficiencies_open: int
    deficiencies_closed: int


class PackageApparatus(TypedDict):
    """An apparatus with its nameplate."""

    label: str
    kind: str
    identity: Identity
    nameplate: list[list[str]]


class PackageCell(TypedDict):
    """A cell, from the left."""

    number: str
    name: str
    kind: str
    bus: str
    apparatus: list[PackageApparatus]


class PackagePrecondition(TypedDict):
    """A precondition with the words that were confirmed."""

    code: str
    text: str
    source: str
    state: Literal["confirmed", "not_applicable"]
    reason: str | None
    by: str
    at: str


class PackageReading(Reading):
    """A reading on its sheet; `rule` counts in the card's rules."""

    point: str
    group: str
    rule: int
    accuracy: dict[str, Any]


class PackageSignature(TypedDict):
    """A card signature that holds, with what was signed."""

    by: str
    meaning: Literal["performed"]
    at: str
    key: str
    statement: str
    seal: str


class PackageCard(TypedDict):
    """A card's sheet."""

    sheet: int
    id: str
    state: CardState
    withdrawn: Withdrawal | None
    cell: str
    apparatus: str
    identity: Identity
    procedure: str
    title: str
    detail: str
    method: str
    preconditions: list[PackagePrecondition]
    rules: list[dict[str, Any]]
    readings: list[PackageReading]
    notes: list[Note]
    signatures: list[PackageSignature]
    inspections: NotRequired[list[Inspection]]  # since hold points can be set
    safety: NotRequired[CardSafety]  # where the card went by scopes


class PackageDeficiency(Deficiency):
    """A deficiency, with where it was found."""

    where: str


class PackageDisposition(Disposition):
    """A disposition with the reading that it is on."""

    reading_id: str
    where: str
    verdict: Verdict


class PackageInstrument(TypedDict):
    """An instrument with the calibration that was in force."""

    tag: str
    name: str
    serial: str
    accuracy: str
    calibrated_on: str | None
    due_on: str | None
    certificate_no: str | None
    laboratory: str | None


class FileWithdrawal(TypedDict):
    """Who said that a file does not count, and why."""

    by: str
    at: str
    reason: str


class AttachedFile(TypedDict):
    """A file that somebody attached to a thing; *sha256* is of what is kept.

    A picture is written anew before it is kept: *sent_sha256* is of what was sent.
    """

    id: str
    subject: str
    subject_id: str
    name: str
    media_type: str
    size: int
    sha256: str
    sent_sha256: str
    note: str
    by: str
    at: str
    withdrawn: FileWithdrawal | None


class PackageFile(AttachedFile):
    """A file of the round, with where it is attached."""

    where: str
    original_of: NotRequired[str]  # the photograph that this is the unscaled file of


class PackagePerson(TypedDict):
    """Somebody who recorded or signed, with the fingerprint of their key."""

    name: str
    role: str
    organisation: str
    key: str


class PackageWaiver(TypedDict):
    """Why a performer's signature on the package is not to be had."""

    person: str
    reason: str
    by: str
    at: str


class PackageSeal(TypedDict):
    """A signature that the package is to carry; the approver is not known yet."""

    field: str
    person: str
    role: str
    meaning: Literal["performed", "approved"]


class PackageLog(TypedDict):
    """The head of the log when it was frozen."""

    seq: int
    head: str


class PackageMember(TypedDict):
    """Where one card stands of those that answer a question together."""

    card_id: str
    title: str
    apparatus: str
    last: str
    verdict: Verdict | None
    open: str


class PackageTogether(TypedDict):
    """A question that cards of one cell answer together, and what follows from all."""

    title: str
    cell: str
    members: list[PackageMember]
    shown: list[list[str]]
    lacks: list[str]
    follows: list[str]


class RoundRecord(TypedDict):
    """What a package says of a round; an export says it as it stands now."""

    schema: Literal["witnessmark-package-2", "witnessmark-package-3"]  # 3: has safety
    uid: str
    revision: int
    zone: str
    conformity: PackageConformity
    editions: list[str]
    disclaimer: str
    firm: Party
    owner: Party
    site: Party
    lineup: PackageLineup
    round: PackageRound
    plan: NotRequired[PackagePlan]
    summary: PackageSummary
    cells: list[PackageCell]
    cards: list[PackageCard]
    together: NotRequired[list[PackageTogether]]  # where several answer one question
    deficiencies: list[PackageDeficiency]
    dispositions: list[PackageDisposition]
    instruments: list[PackageInstrument]
    files: NotRequired[list[PackageFile]]  # not in packages from before
    safety: NotRequired[SafetyReport]  # where the round went by scopes
    people: list[PackagePerson]
    tablets: NotRequired[list[str]]  # sentences on those that nobody waited for
    waived: list[PackageWaiver]


class PackageDocument(RoundRecord):
    """The whole; `draft` is set where it is only shown."""

    made_at: str
    log: PackageLog
    seals: list[PackageSeal]
    draft: NotRequired[bool]
