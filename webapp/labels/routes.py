"""The sheets of labels of a lineup; the address that a label's code holds."""

from io import BytesIO
from uuid import UUID

from flask import Blueprint, current_app, redirect, request, send_file, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.services.labels.labelled import labelled
from models.services.labels.lineup_labels import lineup_labels
from webapp.clock import now
from webapp.db import close, db
from webapp.pdf import render_labels

bp = Blueprint("labels", __name__)


@bp.get("/gear/lineups/<uuid:lineup_id>/labels.pdf")
@login_required
def sheets(lineup_id: UUID) -> ResponseReturnValue:
    """Send the labels of a lineup, 24 on a page of A4."""
    found = lineup_labels(db(), person_id=current_user.id, lineup_id=lineup_id)
    close()
    addresses = {one.thing_id: _address(one.thing_id) for one in found.labels}
    return send_file(
        BytesIO(render_labels(found, addresses, made_at=now())),
        mimetype="application/pdf",
        as_attachment=True,
        download_name=f"labels-{found.lineup_name}.pdf".lower().replace(" ", "-"),
    )


def _address(thing_id: UUID) -> str:
    https = current_app.extensions["witnessmark"].https
    return url_for(
        "labels.opened",
        thing_id=thing_id,
        _external=True,
        _scheme="https" if https else request.scheme,
    )


@bp.get("/a/<uuid:thing_id>")
@login_required
def opened(thing_id: UUID) -> ResponseReturnValue:
    """Lead to the card or the cell of an open round, else to what is known of it."""
    found = labelled(db(), person_id=current_user.id, thing_id=thing_id)
    if found.round_id:
        page = url_for("field.round_page", round_id=found.round_id)
        place = (
            f"#/cards/{found.card_id}" if found.card_id else f"#/cells/{found.cell_id}"
        )
        return redirect(page + place, code=303)
    if found.apparatus_id:
        return redirect(
            url_for("gear.thing", apparatus_id=found.apparatus_id), code=303
        )
    return redirect(url_for("owner.book", lineup_id=found.lineup_id), code=303)
