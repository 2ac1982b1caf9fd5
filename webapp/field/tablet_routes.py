"""A tablet says that it is here, which rounds it holds, and what is still unsent."""

import secrets
from base64 import urlsafe_b64encode
from collections.abc import Callable
from datetime import datetime
from typing import Any
from uuid import UUID

from flask import Response, jsonify
from flask_login import current_user, login_required

from models.services.keeping.log import stamp
from models.services.tablets import held_rounds
from models.services.tablets.hello import SHARE_BYTES, hello
from webapp.clock import now
from webapp.db import commit, write_session
from webapp.field.routes import bp
from webapp.field.sent import read_body


@bp.post("/tablets")
@login_required
def tablet_here() -> Response:
    """Note the tablet; answer who is signed in, and what opens their entries on it."""
    moment = now()
    known = hello(
        write_session(),
        person_id=current_user.id,
        said=_said(),
        now=moment,
        new_share=secrets.token_bytes(SHARE_BYTES),
    )
    commit()
    return jsonify(
        {
            "person": _person(),
            "tablet": {"id": str(known.id), "label": known.label, "revoked": False},
            "share": urlsafe_b64encode(known.share).decode().rstrip("="),
            "now": stamp(moment),
        }
    )


def _person() -> dict[str, Any]:
    view = current_user.view
    return {
        "id": str(view.id),
        "name": view.name,
        "sign_in": view.sign_in,
        "roles": sorted(view.roles),
        "role": current_user.role_words,
        "organisation": current_user.organisation,
    }


@bp.post("/rounds/<uuid:round_id>/taken")
@login_required
def taken(round_id: UUID) -> Response:
    """Note that the tablet took the round along."""
    return jsonify({"now": stamp(_note(held_rounds.take_along, round_id))})


@bp.post("/rounds/<uuid:round_id>/given-back")
@login_required
def given_back(round_id: UUID) -> Response:
    """Note that the tablet gave the round back with nothing left."""
    _note(held_rounds.give_back, round_id)
    return jsonify({})


@bp.post("/rounds/<uuid:round_id>/told")
@login_required
def told(round_id: UUID) -> Response:
    """Note what the tablet still holds unsent."""
    _note(held_rounds.tell, round_id)
    return jsonify({})


def _note(act: Callable[..., None], round_id: UUID) -> datetime:
    """Note what the tablet says of a round that it holds; return when."""
    moment = now()
    act(
        write_session(),
        person_id=current_user.id,
        round_id=round_id,
        said=_said(),
        now=moment,
    )
    commit()
    return moment


def _said() -> dict[str, Any]:
    body = read_body()
    return body if isinstance(body, dict) else {}
