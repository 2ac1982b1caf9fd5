"""Look at the register, and at one instrument."""

from io import BytesIO
from uuid import UUID

from flask import Blueprint, render_template, request, send_file
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.procedures import PROCEDURES
from models.record.instrument_words import ends_words, stated_words
from models.services.people.access import person_of, require
from models.services.setup import list_instruments as services
from models.services.setup.instrument_table import register_csv
from webapp.clock import now
from webapp.db import db
from webapp.instruments.forms import CalibrationForm
from webapp.looked_for import wanted

bp = Blueprint(
    "instruments", __name__, url_prefix="/instruments", template_folder="templates"
)


@bp.before_request
@login_required
def signed_in() -> None:
    """Let nobody in who is not signed in."""


@bp.get("/")
def register() -> ResponseReturnValue:
    """List the instruments, those that need attention first."""
    page = services.list_instruments(
        db(), person_id=current_user.id, today=now().date(), **wanted()
    )
    return render_template(
        "instruments/register.html",
        page=page,
        STATES=services.STATES,
        FILTERS=services.FILTERS,
        titles=titles(),
        may_change=may_change(),
    )


@bp.get("/register.csv")
def register_file() -> ResponseReturnValue:
    """Send the list that is looked for as CSV, in the columns of the import."""
    asked = wanted()
    table = register_csv(
        db(),
        person_id=current_user.id,
        today=now().date(),
        words=asked["words"],
        state=asked["state"],
    )
    name = "instruments-due" if request.args.get("state") == "due" else "instruments"
    return send_file(
        BytesIO(table),
        mimetype="text/csv",
        as_attachment=True,
        download_name=f"{name}.csv",
    )


@bp.get("/<uuid:instrument_id>")
def instrument(instrument_id: UUID) -> ResponseReturnValue:
    """Show one instrument."""
    return instrument_page(instrument_id, CalibrationForm(formdata=None))


def instrument_page(
    instrument_id: UUID, form: CalibrationForm, elsewhere: list[str] | None = None
) -> str:
    """Return the page of one instrument, with a form for its next calibration."""
    view = services.instrument_view(
        db(),
        person_id=current_user.id,
        instrument_id=instrument_id,
        today=now().date(),
    )
    return render_template(
        "instruments/instrument.html",
        view=view,
        form=form,
        elsewhere=elsewhere,
        STATES=services.STATES,
        titles=titles(),
        ends_words=ends_words,
        stated_words=stated_words,
        may_change=may_change(),
    )


def require_set_up() -> None:
    """Raise ForbiddenError for who may not change the register."""
    require(person_of(db(), current_user.id), "set up")


def titles() -> dict[str, str]:
    """Return the title of each procedure by its name."""
    return {name: one.title for name, one in PROCEDURES.items()}


def may_change() -> bool:
    """Whether the person of this request may change the register."""
    return bool(current_user.has_role("lead", "administrator"))
