"""Use an invitation: choose a password, and get a key that only it opens."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError
from models.schema import Invitation
from models.services.keeping.log import append_log, take_turn
from models.services.people.access import role_words
from models.services.people.give_key import give_key
from models.services.people.invitations import state_of, token_digest
from models.signing import seals

ASK = "Ask an administrator of your test firm for a new link."
WHY_NOT = {
    "unknown": "This link is none of ours: it was cut off or mistyped. Open it again "
    "as it was sent, or scan the code anew; if it stays so, ask for a new link.",
    "used": "This link was used: it works once. Sign in with the password that was "
    f"chosen then. If it was not you who chose it, say so at once. {ASK}",
    "expired": f"This link has expired: it works for 72 hours. {ASK}",
    "withdrawn": "This link was withdrawn, or a newer one was made in its place. Use "
    f"the newest. {ASK}",
    "deactivated": "You were deactivated after this link was made. If that is a "
    "mistake, an administrator of your test firm reactivates you.",
}


class InvitationError(ConflictError):
    """An invitation that cannot be used; `state` says which of WHY_NOT it is."""

    def __init__(self, state: str) -> None:
        super().__init__(WHY_NOT[state])
        self.state = state


@dataclass(frozen=True, slots=True, kw_only=True)
class Enrolment:
    """What the person sees who opens the link."""

    person_id: UUID
    kind: str
    name: str
    sign_in: str
    role_words: str
    organisation: str
    made_by: str
    firm: str
    ends_at: datetime


def enrolment_of(session: Session, *, token: str, now: datetime) -> Enrolment:
    """Return whom the link is for; InvitationError where it cannot be used."""
    row = _usable(session, token, now)
    person = row.person
    return Enrolment(
        person_id=person.id,
        kind=row.kind,
        name=person.name,
        sign_in=person.sign_in,
        role_words=role_words(person.roles),
        organisation=person.organisation.name,
        made_by=row.made_by.name,
        firm=row.made_by.organisation.name,
        ends_at=row.ends_at,
    )


def enrol(
    session: Session,
    *,
    token: str,
    password: str,
    secret: str,
    key_id: UUID,
    now: datetime,
) -> UUID:
    """Give the person this password and a key; the link is used up then.

    The key and certificate of before are revoked from *now* on, every session of
    the person's ends. Returns the person's id. Raises InvitationError, and
    InputError for a password that may not be one: the link stays good.
    """
    take_turn(session)
    row = _usable(session, token, now)
    person = row.person
    before = [key for key in person.keys if key.revoked_at is None]
    key = give_key(
        session, person, password=password, secret=secret, key_id=key_id, now=now
    )
    row.used_at = now
    person.session_epoch += 1
    person.version += 1
    session.flush()
    body: dict[str, object] = {
        "invitation": row.id,
        "key": seals.fingerprint(key.certificate_pem),
        "version": person.version,
    }
    if before:
        body["revoked"] = seals.fingerprint(before[0].certificate_pem)
        body["revoked_at"] = now
    append_log(
        session,
        actor_id=person.id,
        action="reset" if before else "enrol",
        subject=f"person {person.id}",
        body=body,
        now=now,
    )
    return person.id


def _usable(session: Session, token: str, now: datetime) -> Invitation:
    row = session.scalars(
        select(Invitation).where(Invitation.token_sha256 == token_digest(token))
    ).first()
    if row is None:
        raise InvitationError("unknown")
    if (state := state_of(row, now)) != "open":
        raise InvitationError(state)
    if not row.person.active:
        raise InvitationError("deactivated")
    return row
