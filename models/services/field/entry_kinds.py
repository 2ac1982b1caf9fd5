"""The kinds of entry: read what came, check it, add the rows."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models import criteria
from models.errors import ConflictError, Fault, InputError
from models.schema import (
    Confirmation,
    Deficiency,
    DeficiencyClosing,
    Note,
    Person,
    Reading,
)
from models.services.field.card_view import CardFacts, precondition_codes
from models.services.field.record_reading import add_reading
from models.services.keeping.texts import storable, text_faults
from models.signing import chain

DEEPEST = 8  # levels of an entry's JSON; what is asked for has two
# No clock that ran down shows less; near year 1 there is no site's time to print.
EARLIEST = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What came from the tablet, with its envelope read."""

    key: UUID
    kind: str
    card_id: UUID
    at: datetime
    arrived_at: datetime
    device: str
    raw: Mapping[str, Any]

    @classmethod
    def read(
        cls, raw: Mapping[str, Any], *, device: str, arrived_at: datetime
    ) -> "Entry":
        """Read the envelope; InputError names each field that is wrong."""
        faults = [Fault(field="", message=why) for why in _unkept(raw)]
        key = _uuid(raw, "key", faults)
        card_id = _uuid(raw, "card_id", faults)
        kind = raw.get("kind")
        if not isinstance(kind, str) or kind not in KINDS:
            faults.append(
                Fault(field="kind", message=f"'{kind}' is none of {', '.join(KINDS)}.")
            )
        at = _time(raw, faults)
        if faults or key is None or card_id is None or at is None:
            raise InputError(*faults)
        return cls(
            key=key,
            kind=str(kind),
            card_id=card_id,
            at=min(at, arrived_at),  # a tablet's clock may run ahead
            arrived_at=arrived_at,
            device=device,
            raw=raw,
        )

    def text(self, field: str, what: str) -> str:
        """Return a text that must be there; InputError otherwise."""
        if faults := text_faults(field, self.raw.get(field), what):
            raise InputError(*faults)
        return str(self.raw[field]).strip()

    def optional_uuid(self, field: str) -> UUID | None:
        """Return an id that may be absent; InputError when it is no id."""
        if self.raw.get(field) in (None, ""):
            return None
        faults: list[Fault] = []
        value = _uuid(self.raw, field, faults)
        if faults:
            raise InputError(*faults)
        return value


def _unkept(value: object, depth: int = 0) -> list[str]:
    """Return why *value* cannot be kept exactly as it came; at most one reason."""
    if depth > DEEPEST:
        return ["This entry is nested too deep."]
    if isinstance(value, str):
        held = "This entry holds a character that cannot be kept."
        return [] if storable(value) else [held]
    if isinstance(value, int) and abs(value) > chain.LARGEST_INTEGER:
        return ["This entry holds a number that is out of all proportion."]
    inner: list[object] = []
    if isinstance(value, Mapping):
        inner = [*value.keys(), *value.values()]
    elif isinstance(value, list):
        inner = value
    return next((why for item in inner if (why := _unkept(item, depth + 1))), [])


def _uuid(raw: Mapping[str, Any], field: str, faults: list[Fault]) -> UUID | None:
    try:
        return UUID(str(raw.get(field)))
    except ValueError:
        faults.append(Fault(field=field, message="This is not an identifier."))
        return None


def _time(raw: Mapping[str, Any], faults: list[Fault]) -> datetime | None:
    try:
        at = datetime.fromisoformat(str(raw.get("at")))
        if at.tzinfo is not None and at.astimezone(UTC) >= EARLIEST:
            return at.astimezone(UTC)
    except (ValueError, OverflowError):
        pass
    message = f"Give date and time with the zone's offset, {EARLIEST.year} or later."
    faults.append(Fault(field="at", message=message))
    return None


def add_confirmation(
    session: Session,
    person: Person,
    facts: CardFacts,
    entry: Entry,
    new_id: Callable[[], UUID],
) -> dict[str, Any]:
    """Confirm a precondition by name and time, or say why it does not apply."""
    code = str(entry.raw.get("code"))
    state = str(entry.raw.get("state"))
    if code not in precondition_codes(facts.card.procedure):
        raise InputError(
            Fault(field="code", message=f"'{code}' is not a precondition of this card.")
        )
    if state not in ("confirmed", "not_applicable"):
        raise InputError(
            Fault(field="state", message="Say confirmed or not applicable.")
        )
    reason = None
    if state == "not_applicable":
        reason = entry.text("reason", "why it does not apply here")
    texts = {item.code: item.text for item in criteria.load_preconditions()}
    confirmation = Confirmation(
        id=entry.key,
        card_id=facts.card.id,
        code=code,
        text=texts[code],
        state=state,
        reason=reason,
        by_id=person.id,
        at=entry.at,
        arrived_at=entry.arrived_at,
    )
    session.add(confirmation)
    session.flush()
    facts.confirmations.append(confirmation)
    return {"code": code, "state": state, "reason": reason, "text": texts[code]}


def add_note(
    session: Session,
    person: Person,
    facts: CardFacts,
    entry: Entry,
    new_id: Callable[[], UUID],
) -> dict[str, Any]:
    """Add a remark."""
    text = entry.text("text", "the note")
    session.add(
        Note(
            id=entry.key,
            card_id=facts.card.id,
            text=text,
            by_id=person.id,
            at=entry.at,
            arrived_at=entry.arrived_at,
        )
    )
    session.flush()
    return {"text": text}


def add_deficiency(
    session: Session,
    person: Person,
    facts: CardFacts,
    entry: Entry,
    new_id: Callable[[], UUID],
) -> dict[str, Any]:
    """Raise a deficiency; numbers run within the round."""
    text = entry.text("text", "what is wrong")
    holder = entry.text("holder", "who has to put it right")
    severity = str(entry.raw.get("severity"))
    if severity not in ("stops_turnover", "may_follow"):
        raise InputError(
            Fault(field="severity", message="Say whether it stops the turnover.")
        )
    reading_id = entry.optional_uuid("reading_id")
    if reading_id is not None:
        _reading_on(facts, reading_id)
    last = session.scalars(
        select(func.max(Deficiency.number)).where(
            Deficiency.round_id == facts.card.round_id
        )
    ).one()
    row = Deficiency(
        id=entry.key,
        round_id=facts.card.round_id,
        card_id=facts.card.id,
        number=(last or 0) + 1,
        text=text,
        severity=severity,
        holder=holder,
        reading_id=reading_id,
        by_id=person.id,
        at=entry.at,
        arrived_at=entry.arrived_at,
    )
    session.add(row)
    session.flush()
    return {
        "number": row.number,
        "text": text,
        "severity": severity,
        "holder": holder,
        "reading": str(reading_id) if reading_id else None,
    }


def add_closing(
    session: Session,
    person: Person,
    facts: CardFacts,
    entry: Entry,
    new_id: Callable[[], UUID],
) -> dict[str, Any]:
    """Close a deficiency, with the retest that shows that it is put right."""
    text = entry.text("text", "how it was put right")
    deficiency_id = entry.optional_uuid("deficiency_id")
    deficiency = next((d for d in facts.deficiencies if d.id == deficiency_id), None)
    if deficiency is None:
        raise InputError(
            Fault(field="deficiency_id", message="No such deficiency on this card.")
        )
    if deficiency.closing is not None:
        raise ConflictError(f"D-{deficiency.number:03d} is closed already.")
    reading_id = entry.optional_uuid("reading_id")
    check_retest(facts, deficiency, reading_id)
    session.add(
        DeficiencyClosing(
            id=entry.key,
            deficiency_id=deficiency.id,
            reading_id=reading_id,
            text=text,
            by_id=person.id,
            at=entry.at,
            arrived_at=entry.arrived_at,
        )
    )
    session.flush()
    return {
        "deficiency": str(deficiency.id),
        "text": text,
        "reading": str(reading_id) if reading_id else None,
    }


def check_retest(
    facts: CardFacts, deficiency: Deficiency, reading_id: UUID | None
) -> None:
    """Raise InputError unless the closing retest fits the deficiency.

    A deficiency raised on a reading is closed by another reading at the same
    point, one that holds and is within, or that a lead has let stand.
    """
    if reading_id is None:
        if deficiency.reading_id is None:
            return
        raise InputError(
            Fault(field="reading_id", message="Choose the retest that closes it.")
        )
    retest = _reading_on(facts, reading_id)
    if retest not in facts.current:
        raise InputError(
            Fault(field="reading_id", message="This reading is superseded.")
        )
    _check_stands(facts, retest)
    if deficiency.reading_id is None:
        return
    raised_on = _reading_on(facts, deficiency.reading_id)
    if retest.point_id != raised_on.point_id or retest.id == raised_on.id:
        raise InputError(
            Fault(
                field="reading_id",
                message="Measure the same point again; that reading closes it.",
            )
        )


def _check_stands(facts: CardFacts, retest: Reading) -> None:
    verdict = retest.judgement.verdict
    disposition = facts.disposition_of(retest)
    let_stand = disposition is not None and disposition.decision != "reject"
    if verdict != "within" and not let_stand:
        raise InputError(
            Fault(
                field="reading_id",
                message=f"This reading is {verdict}: it does not show that the "
                "deficiency is put right.",
            )
        )


def _reading_on(facts: CardFacts, reading_id: UUID) -> Reading:
    for reading in facts.readings:
        if reading.id == reading_id:
            return reading
    raise InputError(Fault(field="reading_id", message="No such reading on this card."))


KINDS: dict[
    str,
    Callable[
        [Session, Person, CardFacts, Entry, Callable[[], UUID]],
        dict[str, Any],
    ],
] = {
    "confirm": add_confirmation,
    "reading": add_reading,
    "note": add_note,
    "deficiency": add_deficiency,
    "close_deficiency": add_closing,
}
