"""Photographs in: announced as JSON, then sent part by part."""

from typing import Any
from uuid import UUID

from flask import Response, jsonify, request
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.errors import NotFoundError
from models.files.receive import Received
from models.services.field.photographs import (
    add_part,
    attach_photograph,
    begin_photograph,
    of_another,
    receive_whole,
    require_sender,
)
from models.services.field.read_photograph import Photograph, read_photograph
from models.services.tablets.read_tablet import tablet_id
from models.services.tablets.revoked import require_admitted
from webapp.clock import now
from webapp.db import close, commit, read_session, write_session
from webapp.field.routes import another_recorded, bp
from webapp.field.sent import read_body
from webapp.file_store import limits, parts, store


@bp.post("/rounds/<uuid:round_id>/photos")
@login_required
def announce_photograph(round_id: UUID) -> ResponseReturnValue:
    """Take note of a photograph that is to come; say how much of it is here."""
    session = read_session()
    require_sender(session, person_id=current_user.id, round_id=round_id)
    body = read_body()
    photograph = read_photograph(body, now=now())
    if body.get("person") not in (None, str(current_user.id)):
        return another_recorded()
    if body.get("tablet"):
        require_admitted(session, tablet_id(body))
    received = begin_photograph(
        session,
        parts(),
        person_id=current_user.id,
        round_id=round_id,
        photograph=photograph,
        limits=limits(),
        now=now(),
    )
    return _answer(photograph.size, received)


@bp.post("/photos/<uuid:photo_id>")
@login_required
def add_photograph_part(photo_id: UUID) -> ResponseReturnValue:
    """Keep a part; with the last one the photograph goes on record."""
    said = parts().said(photo_id)
    if said is None:
        raise NotFoundError("photograph that was announced", photo_id)
    if said["person"] != str(current_user.id):
        raise of_another()
    start = request.args.get("from", -1, type=int)
    received = add_part(parts(), said, start=start, part=request.get_data())
    if received >= said["size"]:
        photograph = read_photograph(said, now=now())
        taken_in = receive_whole(parts(), store(), photograph, limits())
        _put_on_record(said, photograph, taken_in)
        parts().drop(photo_id)
    return _answer(said["size"], received)


def _put_on_record(
    said: dict[str, Any], photograph: Photograph, received: Received
) -> None:
    attach_photograph(
        write_session(),
        person_id=current_user.id,
        round_id=UUID(said["round"]),
        photograph=photograph,
        received=received,
        limits=limits(),
        now=now(),
    )
    commit()
    close()


def _answer(size: int, received: int) -> Response:
    return jsonify({"received": received, "complete": received >= size})
