"""The safety of a round: what stands, what lapsed and why."""

from uuid import UUID

from flask import current_app, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.services.turnover.safety_page import safety_page
from webapp.clock import now
from webapp.db import db
from webapp.turnover.routes import bp


@bp.get("/rounds/<uuid:round_id>/safety")
def safety(round_id: UUID) -> ResponseReturnValue:
    """Show the three sheets of the round, from wide to near."""
    page = safety_page(db(), person_id=current_user.id, round_id=round_id, now=now())
    return render_template(
        "turnover/safety.html",
        page=page,
        head=page.head,
        sheet_address=_sheet(round_id),
    )


def _sheet(round_id: UUID) -> str:
    """Return where the sheet to print and sign is; '' while there is none."""
    if "turnover.safety_sheet" not in current_app.view_functions:
        return ""
    return url_for(".safety_sheet", round_id=round_id)
