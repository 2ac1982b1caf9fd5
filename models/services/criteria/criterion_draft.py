"""A version of a given criterion before it is stored, and all that is wrong with it."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError, NotFoundError
from models.judging.values import legible
from models.procedures import GIVABLE
from models.procedures.given import STANDINGS, given_value
from models.schema import Apparatus, GivenCriterion, Lineup, Person
from models.services.criteria.given_in_force import covers, given_in_force
from models.services.keeping.order import following
from models.services.keeping.texts import storable, text_faults, value_faults
from models.services.people.access import (
    lineup_apparatus,
    lineup_of,
    person_of,
    require,
)
from models.services.setup.programmes import planned_cards

LONGEST = 200  # characters of a document, an edition or a clause


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """A figure as typed, where it is written, and why it is entered."""

    text: str
    unit: str
    document: str
    edition: str = ""
    clause: str = ""
    reason: str = ""

    def trimmed(self) -> "Wording":
        """Return it without blanks at the ends, and marks that nobody sees."""
        trimmed = {name: value.strip() for name, value in asdict(self).items()}
        return Wording(**trimmed | {"text": legible(self.text)})


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """What a criterion is given for; with neither, the whole lineup."""

    apparatus_kind: str | None = None
    apparatus_id: UUID | None = None


def draft_criterion(
    session: Session,
    *,
    person_id: UUID,
    lineup_id: UUID,
    criterion_id: UUID,
    scope: Scope,
    quantity: str,
    standing: str,
    wording: Wording,
    now: datetime,
) -> GivenCriterion:
    """Return what `give_criterion` would add, with its errors; nothing is added."""
    person = _lead(session, person_id)
    lineup = lineup_of(session, person, lineup_id, "lead")
    wording = wording.trimmed()
    faults = [
        *_what_faults(session, lineup, scope, quantity, standing),
        *_wording_faults(quantity, wording),
    ]
    if faults:
        raise InputError(*faults)
    return GivenCriterion(
        id=criterion_id,
        criterion_id=criterion_id,
        version=1,
        supersedes_id=None,
        lineup_id=lineup.id,
        lineup=lineup,
        **asdict(scope),
        apparatus=scope.apparatus_id and session.get(Apparatus, scope.apparatus_id),
        quantity=quantity,
        standing=standing,
        **asdict(wording),
        withdrawn=False,
        by_id=person.id,
        by=person,
        at=now,
    )


def draft_change(
    session: Session,
    *,
    person_id: UUID,
    criterion_id: UUID,
    version_id: UUID,
    seen: int,
    wording: Wording,
    now: datetime,
) -> GivenCriterion:
    """Return what `change_criterion` would add, with its errors; nothing is added."""
    person = _lead(session, person_id)
    last = _last(session, person, criterion_id, seen)
    wording = wording.trimmed()
    faults = list(_wording_faults(last.quantity, wording))
    if not faults and wording == replace(wording_of(last), reason=wording.reason):
        faults = [Fault(field="value", message="Nothing is different from before.")]
    if faults:
        raise InputError(*faults)
    return _following(last, version_id, wording, person, now, withdrawn=False)


def draft_withdrawal(
    session: Session,
    *,
    person_id: UUID,
    criterion_id: UUID,
    version_id: UUID,
    seen: int,
    document: str,
    reason: str,
    now: datetime,
) -> GivenCriterion:
    """Return what `withdraw_criterion` would add, with its errors; nothing is added."""
    person = _lead(session, person_id)
    last = _last(session, person, criterion_id, seen)
    faults = [
        *_short_faults("document", document, "in which document it is withdrawn"),
        *text_faults("reason", reason, "why it holds no more"),
    ]
    if faults:
        raise InputError(*faults)
    wording = Wording(
        text=last.text,
        unit=last.unit,
        document=document.strip(),
        reason=reason.strip(),
    )
    return _following(last, version_id, wording, person, now, withdrawn=True)


def wording_of(row: GivenCriterion) -> Wording:
    """Return the wording of a version."""
    return Wording(
        text=row.text,
        unit=row.unit,
        document=row.document,
        edition=row.edition,
        clause=row.clause,
        reason=row.reason,
    )


def criterion_versions(
    session: Session, person: Person, criterion_id: UUID
) -> list[GivenCriterion]:
    """Return the versions, oldest first; NotFoundError where they are not seen."""
    rows = list(
        session.scalars(
            select(GivenCriterion)
            .where(GivenCriterion.criterion_id == criterion_id)
            .order_by(GivenCriterion.version)
        )
    )
    if not rows:
        raise NotFoundError("criterion", criterion_id)
    lineup_of(session, person, rows[0].lineup_id, "see record")
    return rows


def _lead(session: Session, person_id: UUID) -> Person:
    person = person_of(session, person_id)
    require(person, "lead")
    return person


def _last(
    session: Session, person: Person, criterion_id: UUID, seen: int
) -> GivenCriterion:
    last = criterion_versions(session, person, criterion_id)[-1]
    if last.withdrawn:
        raise ConflictError("This criterion is withdrawn: enter a new one.")
    if last.version != seen:
        raise ConflictError(
            f"Version {last.version} has been entered since: look at it first."
        )
    return last


def _following(
    last: GivenCriterion,
    version_id: UUID,
    wording: Wording,
    person: Person,
    now: datetime,
    *,
    withdrawn: bool,
) -> GivenCriterion:
    return GivenCriterion(
        id=version_id,
        criterion_id=last.criterion_id,
        version=last.version + 1,
        supersedes_id=last.id,
        lineup_id=last.lineup_id,
        lineup=last.lineup,
        apparatus_kind=last.apparatus_kind,
        apparatus_id=last.apparatus_id,
        apparatus=last.apparatus,
        quantity=last.quantity,
        standing=last.standing,
        **asdict(wording),
        withdrawn=withdrawn,
        by_id=person.id,
        by=person,
        at=following(now, [last.at]),
    )


def _what_faults(
    session: Session, lineup: Lineup, scope: Scope, quantity: str, standing: str
) -> Iterator[Fault]:
    if standing not in STANDINGS:
        yield Fault(field="standing", message="Say whose it is: project or maker.")
    within = _within(session, lineup, scope)
    if not within:
        yield Fault(field="scope", message="Choose what it is given for.")
    if quantity not in GIVABLE:
        yield Fault(field="quantity", message="Choose what is given.")
        return
    if within and not any(_tested(one, quantity) for one in within):
        message = "Nothing of this is tested by that procedure in any programme."
        yield Fault(field="scope", message=message)
    for row in given_in_force(session, lineup.id):
        there = (row.apparatus_kind, row.apparatus_id, row.quantity, row.standing)
        if there == (scope.apparatus_kind, scope.apparatus_id, quantity, standing):
            message = "It is given already: enter a new version of that one."
            yield Fault(field="quantity", message=message)


def _within(session: Session, lineup: Lineup, scope: Scope) -> list[Apparatus]:
    row = GivenCriterion(**asdict(scope))
    return [one for one in lineup_apparatus(session, lineup.id) if covers(row, one)]


def _tested(apparatus: Apparatus, quantity: str) -> bool:
    procedure = GIVABLE[quantity].procedure
    return any(card.procedure == procedure for card in planned_cards(apparatus))


def _wording_faults(quantity: str, wording: Wording) -> Iterator[Fault]:
    too_long = value_faults("value", wording.text)
    yield from too_long
    if quantity in GIVABLE and not too_long:
        try:
            given_value(GIVABLE[quantity], wording.text, wording.unit)
        except InputError as error:
            yield from error.faults
    yield from _short_faults(
        "document", wording.document, "in which document it is written"
    )
    for field in ("edition", "clause"):
        if getattr(wording, field):
            yield from _short_faults(field, getattr(wording, field), f"the {field}")
    yield from text_faults("reason", wording.reason, "why it is entered")


def _short_faults(field: str, text: str, what: str) -> list[Fault]:
    if len(text) > LONGEST and storable(text):
        return [Fault(field=field, message=f"Keep it under {LONGEST} characters.")]
    return text_faults(field, text, what)
