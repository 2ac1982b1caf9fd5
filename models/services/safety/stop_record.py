"""One stop: who pressed it, whether and how it was released, who may release it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from models.criteria.safety import governs
from models.errors import NotFoundError
from models.schema import Lineup, Person, Round, SafetyAct, Site
from models.services.people.access import (
    has_role,
    person_of,
    site_of,
    visible_rounds,
)
from models.services.safety.stops import said_by

NAMED_WITHIN = timedelta(days=3)  # before the stop: briefings that may be in force
RELEASERS = "G25b"  # the line that names them


@dataclass(frozen=True, slots=True, kw_only=True)
class Released:
    """How the work went on."""

    by: str
    at: datetime
    reason: str
    put_right: str
    agrees: bool


@dataclass(frozen=True, slots=True)
class RoundNamed:
    """An open round of the site, by its lineup."""

    id: UUID
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StopRecord:
    """A stop as one person sees it.

    *leads*: they may release it though the one who pressed does not agree.
    *named*: whom the briefings of the crews name who may release it where they agree,
    *is_named*: whether the person is one of them.
    """

    id: UUID
    site_id: UUID
    site_name: str
    zone: str
    by: str
    at: datetime
    released: Released | None
    leads: bool
    named: list[str]
    is_named: bool
    who_releases: str
    rounds: list[RoundNamed]
    governs: str

    @property
    def may_release(self) -> bool:
        """Whether the person may release it, where who pressed agrees or does not."""
        return self.leads or self.is_named


def stop_record(session: Session, *, person_id: UUID, stop_id: UUID) -> StopRecord:
    """Return the stop; NotFoundError where its site is not theirs to see."""
    person = person_of(session, person_id)
    pressed = _act(session, "stop", stop_id)
    if pressed is None:
        raise NotFoundError("stop", stop_id)
    site = site_of(session, person, pressed.site_id)
    release = _act(session, "release", stop_id)
    named = _named(session, pressed)
    names = list(dict.fromkeys(one["name"] for one in named))
    return StopRecord(
        id=stop_id,
        site_id=site.id,
        site_name=site.name,
        zone=site.zone,
        by=said_by(pressed),
        at=pressed.at,
        released=_released(release) if release else None,
        leads=has_role(person, "lead"),
        named=names,
        is_named=_is_named(person, named),
        who_releases=_who_releases(names),
        rounds=_open_rounds(session, person, site),
        governs=governs(),
    )


def _act(session: Session, act: str, stop_id: UUID) -> SafetyAct | None:
    found = select(SafetyAct).where(SafetyAct.act == act, SafetyAct.of_id == stop_id)
    return session.scalars(found.order_by(SafetyAct.at)).first()


def _released(act: SafetyAct) -> Released:
    return Released(
        by=said_by(act),
        at=act.at,
        reason=act.body["reason"],
        put_right=act.body["put_right"],
        agrees=act.body["agrees"],
    )


def _named(session: Session, pressed: SafetyAct) -> list[dict[str, Any]]:
    """Return whom the briefings name: the newest of each crew that has not ended."""
    acts = session.scalars(
        select(SafetyAct)
        .where(
            SafetyAct.site_id == pressed.site_id,
            SafetyAct.at >= pressed.at - NAMED_WITHIN,
            or_(SafetyAct.code == RELEASERS, SafetyAct.act == "end_crew"),
        )
        .order_by(SafetyAct.at, SafetyAct.seq)
    )
    newest: dict[UUID, list[dict[str, Any]]] = {}
    for act in acts:
        newest[act.of_id] = act.body.get("noted", {}).get("releasers", [])
    return [one for people in newest.values() for one in people]


def _is_named(person: Person, named: Iterable[dict[str, Any]]) -> bool:
    return any(one.get("id") == str(person.id) for one in named)


def _who_releases(names: list[str]) -> str:
    if not names:
        return "Nobody was named at a briefing to release a stop: the lead releases it."
    return (
        f"Named at the briefing to release a stop: {', '.join(names)}. "
        "Where the one who pressed does not agree, the lead releases it."
    )


def _open_rounds(session: Session, person: Person, site: Site) -> list[RoundNamed]:
    rounds = session.scalars(
        visible_rounds(person)
        .where(Lineup.site_id == site.id, Round.state == "open")
        .order_by(Round.opened_at.desc())
    )
    return [RoundNamed(one.id, f"{one.lineup.name} · {one.title}") for one in rounds]
