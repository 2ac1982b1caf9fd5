"""Change somebody's roles; deactivate and reactivate them."""

import json
from collections.abc import Callable, Collection, Mapping
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.errors import ConflictError, InputError, NotFoundError
from models.schema import LogEntry, Person, PersonRole
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.texts import text_faults
from models.services.people.access import has_role, person_of, require, role_words
from models.services.people.invitations import withdraw_open
from models.services.people.new_person import listed, role_faults


class ChangedMeanwhileError(ConflictError):
    """Somebody else changed the person since they were shown; the message says what."""


def change_roles(
    session: Session,
    *,
    by_id: UUID,
    person_id: UUID,
    roles: Collection[str],
    seen_version: int,
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> bool:
    """Give a person these roles and no others; False where nothing changes.

    What they did before stays as it is, and is printed with the role held then.
    Raises ForbiddenError, NotFoundError, InputError for roles that cannot be,
    ChangedMeanwhileError, and ConflictError where nobody would administer any more.
    """
    person = _to_change(session, by_id, person_id, seen_version)
    if faults := role_faults(person.organisation, roles):
        raise InputError(*faults)
    before = person.roles
    if before == set(roles):
        return False
    if "administrator" not in roles:
        _require_another_administrator(session, person)
    for row in person.held_roles:
        if row.until is None and row.role not in roles:
            row.until = now
    person.held_roles += [
        PersonRole(id=new_id(), role=role, since=now, until=None)
        for role in listed(roles)
        if role not in before
    ]
    change = {"old": listed(before), "new": listed(roles)}
    _log(session, person, by_id, "change roles", {"roles": change}, now)
    return True


def deactivate(
    session: Session,
    *,
    by_id: UUID,
    person_id: UUID,
    reason: str,
    seen_version: int,
    now: datetime,
) -> None:
    """Let a person sign in no more; their sessions end, their links work no more.

    What they signed stays valid. Raises as `change_roles`; InputError without a
    reason; ConflictError for who is deactivated already.
    """
    person = _to_change(session, by_id, person_id, seen_version)
    if faults := text_faults("reason", reason, "why they are deactivated"):
        raise InputError(*faults)
    if not person.active:
        raise ConflictError(f"{person.name} is deactivated already.")
    _require_another_administrator(session, person)
    person.active = False
    person.session_epoch += 1
    withdraw_open(session, person.id, now)
    said = {"active": {"old": True, "new": False}, "reason": reason.strip()}
    _log(session, person, by_id, "deactivate", said, now)


def reactivate(
    session: Session,
    *,
    by_id: UUID,
    person_id: UUID,
    reason: str,
    seen_version: int,
    now: datetime,
) -> None:
    """Let a person sign in again, with the password and key that they had."""
    person = _to_change(session, by_id, person_id, seen_version)
    if faults := text_faults("reason", reason, "why they are reactivated"):
        raise InputError(*faults)
    if person.active:
        raise ConflictError(f"{person.name} is active already.")
    person.active = True
    said = {"active": {"old": False, "new": True}, "reason": reason.strip()}
    _log(session, person, by_id, "reactivate", said, now)


def _to_change(
    session: Session, by_id: UUID, person_id: UUID, seen_version: int
) -> Person:
    take_turn(session)
    require(person_of(session, by_id), "administer")
    person = session.get(Person, person_id, populate_existing=True)
    if person is None:
        raise NotFoundError("person", person_id)
    if person.version != seen_version:
        changes = "; ".join(_changes_since(session, person, seen_version))
        raise ChangedMeanwhileError(
            f"{person.name} was changed while you had this page open: {changes}. "
            "Nothing of yours is stored yet. Look at it, and save again."
        )
    return person


def _changes_since(session: Session, person: Person, seen: int) -> list[str]:
    """Say what others changed, from the log."""
    entries = session.execute(
        select(LogEntry, Person.name)
        .outerjoin(Person, Person.id == LogEntry.actor_id)
        .where(LogEntry.subject == f"person {person.id}")
        .order_by(LogEntry.seq)
    )
    return [
        f"{name or 'whoever runs the server'}: {change_words(entry.action, body)}"
        for entry, name in entries
        if (body := json.loads(entry.body)).get("version", 0) > seen
    ]


def change_words(action: str, body: Mapping[str, Any]) -> str:
    """Return a change in words: change roles, from technician to lead, technician."""
    if action == "change roles":
        change = body["roles"]
        before, after = role_words(change["old"]), role_words(change["new"])
        return f"{action}, from {before} to {after}"
    if action == "assign":
        until = f", until {body['until']}" if body["until"] else ""
        return f"assign to {body['site']} from {body['from']}{until}"
    if action == "end assignment":
        return f"end the assignment to {body['site']} on {body['until']['new']}"
    if action == "make invitation":
        what = "enrol" if body["kind"] == "enrol" else "set the password anew"
        return f"make a link to {what}"
    return f"{action}, {body['reason']}" if "reason" in body else action


def _require_another_administrator(session: Session, person: Person) -> None:
    if not has_role(person, "administrator"):
        return
    others = select(func.count()).where(
        Person.id != person.id,
        Person.active,
        Person.password_hash.is_not(None),
        Person.held_roles.any(role="administrator", until=None),
    )
    if person.active and not session.scalars(others).one():
        raise ConflictError(
            f"{person.name} is the last administrator who can sign in: make somebody "
            "else one first, and let them enrol."
        )


def _log(
    session: Session,
    person: Person,
    by_id: UUID,
    action: str,
    said: Mapping[str, object],
    now: datetime,
) -> None:
    person.version += 1
    session.flush()
    append_log(
        session,
        actor_id=by_id,
        action=action,
        subject=f"person {person.id}",
        body={**said, "version": person.version},
        now=now,
    )
