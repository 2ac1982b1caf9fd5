"""Stop the work on a site, and let it go on: one act each, only ever added."""

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, ForbiddenError, InputError
from models.schema import Person, Site
from models.services.keeping.log import stamp, take_turn
from models.services.keeping.texts import text_faults
from models.services.people.access import person_of, site_of
from models.services.safety.keep_acts import keep_act
from models.services.safety.stop_record import StopRecord, stop_record
from models.services.safety.stops import stops_in_force


def press_stop(
    session: Session,
    *,
    person_id: UUID,
    site_id: UUID,
    stop_id: UUID,
    device: str,
    now: datetime,
) -> UUID:
    """Stop the work on the site and return the stop.

    It is the one that the person has pressed there already, where that is in force.
    """
    take_turn(session)
    person = person_of(session, person_id)
    site = site_of(session, person, site_id)
    for one in stops_in_force(session, [site_id]):
        if one.by_id == person_id:
            return one.id
    _keep_stop(session, site, person, stop_id, device, now)
    return stop_id


def press_signed_out(
    session: Session, *, site_id: UUID, stop_id: UUID, device: str, now: datetime
) -> UUID:
    """Stop the work for somebody who is not signed in, at a browser that is known."""
    take_turn(session)
    site = session.get_one(Site, site_id)
    for one in stops_in_force(session, [site_id]):
        if one.by_id is None and one.device == device:
            return one.id
    _keep_stop(session, site, None, stop_id, device, now)
    return stop_id


def release_stop(
    session: Session,
    *,
    person_id: UUID,
    stop_id: UUID,
    act_id: UUID,
    reason: str,
    put_right: str,
    agrees: bool | None,
    device: str,
    now: datetime,
) -> None:
    """Let the work go on; *agrees*: whether the one who pressed does, if it was said.

    Who was named at the briefing releases it where they agree, the lead where not.
    """
    take_turn(session)
    person = person_of(session, person_id)
    found = stop_record(session, person_id=person_id, stop_id=stop_id)
    if found.released:
        raise ConflictError(f"{found.released.by} has released this stop already.")
    if not found.may_release:
        raise ForbiddenError(found.who_releases)
    if faults := _faults(found, reason, put_right, agrees=agrees):
        raise InputError(*faults)
    members = {
        "act": "release",
        "stop": str(stop_id),
        "reason": reason.strip(),
        "put_right": put_right.strip(),
        "agrees": agrees,
    }
    site = session.get_one(Site, found.site_id)
    _keep(session, site, person, act_id, members, device, now)


def _faults(
    found: StopRecord, reason: str, put_right: str, *, agrees: bool | None
) -> list[Fault]:
    faults = text_faults("reason", reason, "the reason of the release")
    faults += text_faults("put_right", put_right, "what was put right")
    if agrees is None:
        message = "Say whether the one who pressed agrees."
        faults.append(Fault(field="agrees", message=message))
    elif agrees and found.named and not found.is_named:
        faults.append(Fault(field="agrees", message=found.who_releases))
    elif not agrees and not found.leads:
        message = (
            "Where the one who pressed does not agree, the lead releases the stop."
        )
        faults.append(Fault(field="agrees", message=message))
    return faults


def _keep_stop(
    session: Session,
    site: Site,
    person: Person | None,
    stop_id: UUID,
    device: str,
    now: datetime,
) -> None:
    members = {"act": "stop", "stop": str(stop_id)}
    _keep(session, site, person, stop_id, members, device, now)


def _keep(
    session: Session,
    site: Site,
    person: Person | None,
    act_id: UUID,
    members: dict[str, Any],
    device: str,
    now: datetime,
) -> None:
    act = {"key": str(act_id), "at": stamp(now), **members}
    keep_act(session, site=site, by=person, act=act, device=device, now=now)
