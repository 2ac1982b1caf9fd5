"""Look for apparatus, show one, move it; the spare shelf of a site."""

from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.errors import InputError
from models.services.setup import things as services
from models.services.setup.move_apparatus import Moved, move_apparatus
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.gear.forms import SHELF, MoveForm
from webapp.looked_for import page_number, words

bp = Blueprint("gear", __name__, url_prefix="/gear", template_folder="templates")


@bp.before_request
@login_required
def signed_in() -> None:
    """Let nobody in who is not signed in."""


@bp.get("/")
def things() -> ResponseReturnValue:
    """List the apparatus of every site, or what is looked for."""
    page = services.find_things(
        db(), person_id=current_user.id, words=words(), page=page_number()
    )
    return render_template("gear/things.html", page=page)


@bp.get("/things/<uuid:apparatus_id>")
def thing(apparatus_id: UUID) -> ResponseReturnValue:
    """Show an apparatus: its plate, where it was, and what was read on it."""
    found = services.thing(db(), person_id=current_user.id, apparatus_id=apparatus_id)
    return render_template("gear/thing.html", thing=found)


@bp.get("/things/<uuid:apparatus_id>/move")
def moving(apparatus_id: UUID) -> ResponseReturnValue:
    """Ask where it goes."""
    return _move_page(apparatus_id, MoveForm())


@bp.post("/things/<uuid:apparatus_id>/move")
def move(apparatus_id: UUID) -> ResponseReturnValue:
    """Move it to another cell or to the spare shelf."""
    form = MoveForm()
    if not form.cell.data:
        form.cell.errors = [*form.cell.errors, "Choose where it goes."]
        return _move_page(apparatus_id, form), 422
    form.validate()
    try:
        moved = move_apparatus(
            db(),
            person_id=current_user.id,
            apparatus_id=apparatus_id,
            cell_id=None if form.cell.data == SHELF else form.cell_id,
            on=form.day.data,
            reason=form.reason.data or "",
            swap=form.swap.data,
            now=now(),
            new_id=new_id,
        )
    except InputError as error:
        faults = place_faults(form, error)
        return _move_page(apparatus_id, form, faults), 422
    commit()
    flash(_said(moved))
    return redirect(url_for(".thing", apparatus_id=apparatus_id), code=303)


def _said(moved: Moved) -> str:
    said = f"{moved.label} is moved: {moved.where}."
    if moved.swapped:
        said += f" {moved.swapped} went the other way."
    return " ".join([said, *(f"{one}." for one in moved.stayed)])


def _move_page(
    apparatus_id: UUID, form: MoveForm, elsewhere: list[str] | None = None
) -> str:
    asked = {"person_id": current_user.id, "apparatus_id": apparatus_id}
    found = services.thing(db(), **asked)
    cells = services.cells_to_move_to(db(), **asked)
    form.offer(cells, on_shelf=not found.line.cell)
    return render_template(
        "gear/move.html", form=form, thing=found, elsewhere=elsewhere
    )


@bp.get("/sites/<uuid:site_id>/shelf")
def shelf(site_id: UUID) -> ResponseReturnValue:
    """List what stands on the spare shelf of a site."""
    site, rows = services.spare_shelf(db(), person_id=current_user.id, site_id=site_id)
    return render_template("gear/shelf.html", site=site, rows=rows)
