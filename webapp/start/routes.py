"""What has to be there before the first card, and what of it is."""

from flask import Blueprint, render_template
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.services.people.first_start import fingerprint_waits_for
from webapp.db import db
from webapp.first_steps_shown import steps_to_first_card

bp = Blueprint("start", __name__, url_prefix="/start", template_folder="templates")


@bp.get("/")
@login_required
def first_steps() -> ResponseReturnValue:
    """List the steps from nothing to the first card."""
    return render_template(
        "start/first_steps.html",
        steps=steps_to_first_card(),
        to_write_down=fingerprint_waits_for(db(), person_id=current_user.id),
    )
