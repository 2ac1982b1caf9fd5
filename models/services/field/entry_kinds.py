"""The kinds of entry: check what came, add the rows."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models import criteria
from models.errors import ConflictError, Fault, InputError
from models.schema import (
    Deficiency,
    DeficiencyClosing,
    Note,
    Person,
    Reading,
)
from models.schema.confirmations import Confirmation
from models.services.field.card_facts import CardFacts
from models.services.field.entry import Entry
from models.services.field.record_reading import add_reading


def add_confirmation(
    session: Session,
    person: Person,
    facts: CardFacts,
    entry: Entry,
    new_id: Callable[[], UUID],
) -> dict[str, Any]:
    """Confirm a precondition by name and time, or say why it does not apply.

    It is stored with those that come together with it.
    """
    if not facts.listed:
        raise ConflictError(
            "This round goes by the scopes of safety: confirm the lines that its card "
            "asks. Load the round again if the tablet shows a list."
        )
    code = str(entry.raw.get("code"))
    state = str(entry.raw.get("state"))
    if code not in facts.listed:
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
    facts.confirmations.append(
        Confirmation(
            id=entry.key,
            card_id=facts.card.id,
            code=code,
            text=texts[code],
            state=state,
            reason=reason,
            by=person,
            at=entry.at,
            arrived_at=entry.arrived_at,
        )
    )
    return {}


# What came in one call may be said to have come a little later (`keep_together`).
ALMOST = timedelta(milliseconds=1)


def says_the_same(row: Confirmation, entry: Entry, person_id: UUID) -> bool:
    """Whether *entry* is the one that this confirmation was stored from.

    A time ahead of the server's was stored as the time of arrival.
    """
    given = entry.raw
    reason = str(given.get("reason")).strip() if row.reason else None
    ahead = row.arrived_at - row.at < ALMOST and entry.at >= row.at
    said = (entry.kind, entry.card_id, given.get("code"), given.get("state"), reason)
    return (
        said == ("confirm", row.card_id, row.code, row.state, row.reason)
        and person_id == row.by_id
        and (entry.at == row.at or ahead)
    )


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
    if disposition and verdict == "outside":
        let_stand = let_stand and disposition.agreement is not None
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
