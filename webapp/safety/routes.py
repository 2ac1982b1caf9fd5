"""Press stop work on a site, read a stop, release it."""

from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.errors import Fault, InputError
from models.services.safety import press_stop as services
from models.services.safety.stop_record import stop_record
from models.services.safety.stops import sites_to_stop
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.guessing import counted_press
from webapp.known_browser import known_id, site_last_worked_on
from webapp.looked_for import page_number, words
from webapp.safety.forms import ReleaseForm

bp = Blueprint("safety", __name__, url_prefix="/safety", template_folder="templates")
DESK = "desk"  # the device of an act that is made on a page of the program


@bp.get("/stop")
@login_required
def choose() -> ResponseReturnValue:
    """Show one large press for each site of the person."""
    page = sites_to_stop(
        db(), person_id=current_user.id, words=words(), page=page_number()
    )
    return render_template("safety/choose.html", page=page)


@bp.post("/stop")
def press() -> ResponseReturnValue:
    """Stop the work on a site: one press, and it holds."""
    site_id = _site_pressed()
    if not current_user.is_authenticated:
        return _press_signed_out(site_id)
    stop_id = services.press_stop(
        db(),
        person_id=current_user.id,
        site_id=site_id,
        stop_id=new_id(),
        device=DESK,
        now=now(),
    )
    commit()
    return redirect(url_for(".stopped", stop_id=stop_id), code=303)


def _press_signed_out(site_id: UUID) -> ResponseReturnValue:
    """Stop the site last worked on from a browser that is known; no other."""
    if site_id != site_last_worked_on():
        raise InputError(
            Fault(
                field="stop_site",
                message="Stop by voice and at the switch first. This browser is not "
                "known to have worked on a site: sign in to stop entries.",
            )
        )
    counted_press(f"stop work on {site_id}", field="stop_site")
    services.press_signed_out(
        db(),
        site_id=site_id,
        stop_id=new_id(),
        device=f"browser {known_id()[:8]}",
        now=now(),
    )
    commit()
    flash("Work is stopped: cards of the site are closed for entry.")
    return redirect(url_for("account.sign_in"), code=303)


@bp.get("/stops/<uuid:stop_id>")
@login_required
def stopped(stop_id: UUID) -> ResponseReturnValue:
    """Show a stop, what it does and does not do, and how it is released."""
    return _page(stop_id, ReleaseForm())


@bp.post("/stops/<uuid:stop_id>/release")
@login_required
def release(stop_id: UUID) -> ResponseReturnValue:
    """Let the work go on."""
    form = ReleaseForm()
    try:
        services.release_stop(
            db(),
            person_id=current_user.id,
            stop_id=stop_id,
            act_id=new_id(),
            reason=form.reason.data or "",
            put_right=form.put_right.data or "",
            agrees=form.agreement(),
            device=DESK,
            now=now(),
        )
    except InputError as error:
        elsewhere = place_faults(form, error)
        return _page(stop_id, form, elsewhere), 422
    commit()
    flash("The stop is released. What it closed is asked again before cards open.")
    return redirect(url_for(".stopped", stop_id=stop_id), code=303)


def _site_pressed() -> UUID:
    try:
        return UUID(request.form.get("stop_site", ""))
    except ValueError as error:
        raise InputError(
            Fault(field="stop_site", message="Choose the site whose work stops.")
        ) from error


def _page(stop_id: UUID, form: ReleaseForm, elsewhere: list[str] | None = None) -> str:
    found = stop_record(db(), person_id=current_user.id, stop_id=stop_id)
    return render_template(
        "safety/stopped.html", stop=found, form=form, elsewhere=elsewhere or []
    )
