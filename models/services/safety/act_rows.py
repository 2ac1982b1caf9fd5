"""Acts as rows and as JSON: one is made of the other."""

import hashlib
from collections.abc import Iterable, Mapping
from typing import Any
from uuid import UUID

from models.schema import Person, SafetyAct
from models.services.keeping.log import stamp, texted
from models.services.safety.act_members import ACTS
from models.services.safety.read_act import SentAct
from models.services.safety.site_things import Place
from models.signing import chain

SIGNED_OUT = "not signed in, at a known browser"
COLUMNS = ("scope", "code")  # members that have a column of their own


def act_row(
    sent: SentAct, place: Place, *, site_id: UUID, seq: int, by: Person | None
) -> SafetyAct:
    """Return the row of an act that was found good."""
    rest = {*COLUMNS, sent.kind.about}
    person = sent.person or {}
    return SafetyAct(
        id=sent.key,
        site_id=site_id,
        lineup_id=place.lineup_id,
        round_id=place.round_id,
        seq=seq,
        act=sent.act,
        span=sent.kind.span,
        scope=sent.members.get("scope"),
        of_id=sent.about,
        card_id=place.card_id,
        cell_id=place.cell_id,
        code=sent.members.get("code"),
        by=by,
        by_id=by.id if by else None,
        person_id=UUID(person["id"]) if person.get("id") else None,
        person_name=person.get("name"),
        device=sent.device,
        at=sent.at,
        arrived_at=sent.arrived_at,
        body={k: v for k, v in sent.members.items() if k not in rest},
    )


def act_json(row: Any) -> dict[str, Any]:
    """Return an act as `models.record.shapes.safety` has it.

    *row*: a SafetyAct, or its columns with `by_name`, as `load_acts` gives them.
    """
    shown: dict[str, Any] = {
        "id": str(row.id),
        "at": stamp(row.at),
        "arrived_at": stamp(row.arrived_at),
        "device": row.device,
        "by": _by(row),
        "act": row.act,
        **_members(row),
    }
    if row.person_name is not None and row.by_id is not None:
        shown["person"] = {
            "id": str(row.person_id) if row.person_id else None,
            "name": row.person_name,
        }
    return shown


def _by(row: Any) -> dict[str, Any]:
    if row.by_id is None:
        return {"id": None, "name": row.person_name or SIGNED_OUT}
    return {"id": str(row.by_id), "name": row.by_name}


def _members(row: Any) -> dict[str, Any]:
    columns = {name: getattr(row, name) for name in COLUMNS}
    return {
        ACTS[row.act].about: str(row.of_id),
        **{name: value for name, value in columns.items() if value is not None},
        **row.body,
    }


def says_the_same(row: SafetyAct, sent: SentAct, by: Person | None) -> bool:
    """Whether *sent* is the act that this row was stored from.

    A time ahead of the server's was stored as the time of arrival.
    """
    ahead = row.at == row.arrived_at and sent.at >= row.at
    person = None
    if row.person_name is not None and row.by_id is not None:
        person = (row.person_id and str(row.person_id), row.person_name)
    said = sent.person and (sent.person["id"], sent.person["name"])
    return (
        (row.act, _members(row)) == (sent.act, sent.members)
        and (row.at == sent.at or ahead)
        and row.by_id == (by.id if by else None)
        and person == said
    )


def acts_digest(rows: Iterable[SafetyAct]) -> str:
    """Return the SHA-256 over all that these acts say, which the log holds."""
    said = [_said(row) for row in rows]
    return hashlib.sha256(chain.canonical(texted(said))).hexdigest()


def _said(row: SafetyAct) -> Mapping[str, Any]:
    return {
        column.name: getattr(row, column.key) for column in SafetyAct.__table__.columns
    }
