"""What others did meanwhile: a tablet in front asks every 1.5 seconds."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from flask import Response, current_app, jsonify, request
from flask_login import current_user, login_required

from models.services.field.round_news import round_news
from models.services.safety.document import safety_news as new_acts
from webapp.clock import now
from webapp.db import db
from webapp.field.routes import bp
from webapp.field.tablets import Tablets


@bp.get("/rounds/<uuid:round_id>/news.json")
@login_required
def news(round_id: UUID) -> Response:
    """Return the acts of safety and the cards that are newer than what is known."""
    since = {"safety_since": _number("safety"), "cards_since": _number("cards")}
    return _heard(round_news, round_id, **since)


@bp.get("/rounds/<uuid:round_id>/safety.json")
@login_required
def safety_news(round_id: UUID) -> Response:
    """Return the acts alone, as pages of the version before ask for them."""
    return _heard(new_acts, round_id, since=_number("since"))


def _number(name: str) -> int:
    return max(0, request.args.get(name, 0, type=int))


def _heard(
    look: Callable[..., dict[str, Any]], round_id: UUID, **since: int
) -> Response:
    """Answer, with the tablets of the site that asked in the last 24 hours."""
    moment = now()
    found = look(
        db(), person_id=current_user.id, round_id=round_id, now=moment, **since
    )
    site = UUID(found.pop("site"))
    tablets: Tablets = current_app.extensions.setdefault("tablets", Tablets())
    device = request.args.get("device", "").strip()
    tablets.heard(site, device, current_user.name, found["cursor"], moment)
    return jsonify({**found, "tablets": tablets.of(site)})
