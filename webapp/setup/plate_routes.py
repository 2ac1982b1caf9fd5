"""The nameplates of a lineup, to be compared with the metal ones and confirmed."""

from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.services.setup.confirm_plates import confirm_plates, plates_of
from models.services.setup.lineup_page import lineup_page
from models.services.turnover.pages import Page, start_of
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.looked_for import page_number
from webapp.setup.routes import bp

ROWS = 8  # plates on a page: each is a form of its own


@bp.get("/lineups/<uuid:lineup_id>/plates")
def plates(lineup_id: UUID) -> ResponseReturnValue:
    """Show every nameplate with who entered and who confirmed it."""
    return _plates_page(lineup_id)


@bp.post("/lineups/<uuid:lineup_id>/plates")
def confirm(lineup_id: UUID) -> ResponseReturnValue:
    """Confirm those that were ticked."""
    lineup_page(db(), person_id=current_user.id, lineup_id=lineup_id)
    ticked = [_id(one) for one in request.form.getlist("version")]
    if not ticked:
        fault = "Tick the plates that you have compared with the metal ones."
        return _plates_page(lineup_id, fault), 422
    count = confirm_plates(
        db(), person_id=current_user.id, version_ids=ticked, now=now(), new_id=new_id
    )
    commit()
    flash(f"{count} {'plate is' if count == 1 else 'plates are'} confirmed.")
    return redirect(url_for(".plates", lineup_id=lineup_id), code=303)


def _id(text: str) -> UUID:
    try:
        return UUID(text)
    except ValueError:
        return UUID(int=0)  # it names no plate, and the service says so


def _plates_page(lineup_id: UUID, fault: str = "") -> str:
    found = lineup_page(db(), person_id=current_user.id, lineup_id=lineup_id)
    shown = plates_of(db(), person_id=current_user.id, lineup_id=lineup_id)
    waiting = [one for one in shown if not one.confirmed_by]
    start = start_of(page_number(), ROWS)
    return render_template(
        "setup/plates.html",
        lineup=found,
        page=Page(
            rows=waiting[start : start + ROWS],
            total=len(waiting),
            number=max(1, page_number()),
            size=ROWS,
        ),
        confirmed=[one for one in shown if one.confirmed_by],
        fault=fault,
    )
