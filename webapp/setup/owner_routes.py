"""The owners of sites: list, add, change."""

from uuid import UUID

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.setup import owners as services
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.looked_for import page_number, words
from webapp.setup.forms import OwnerForm
from webapp.setup.routes import bp


@bp.get("/owners")
def owners() -> ResponseReturnValue:
    """List the owners."""
    page = services.list_owners(
        db(), person_id=current_user.id, words=words(), page=page_number()
    )
    return render_template("setup/owners.html", page=page)


@bp.get("/owners/new")
def new_owner() -> ResponseReturnValue:
    """Ask for a new owner."""
    services.owner_names(db(), person_id=current_user.id)  # who may not is told now
    return render_template("setup/owner.html", form=OwnerForm(), owner=None)


@bp.post("/owners/new")
def add_owner() -> ResponseReturnValue:
    """Add the owner."""
    form = OwnerForm()
    try:
        services.add_owner(
            db(),
            person_id=current_user.id,
            owner_id=new_id(),
            name=form.name.data or "",
            address=form.address.data or "",
            now=now(),
        )
    except InputError as error:
        faults = place_faults(form, error)
        page = render_template(
            "setup/owner.html", form=form, owner=None, elsewhere=faults
        )
        return page, 422
    commit()
    flash("The owner is added.")
    return redirect(url_for(".owners"), code=303)


@bp.get("/owners/<uuid:owner_id>")
def owner(owner_id: UUID) -> ResponseReturnValue:
    """Show an owner, to be changed."""
    found = services.owner_of(db(), person_id=current_user.id, owner_id=owner_id)
    return render_template("setup/owner.html", form=OwnerForm(obj=found), owner=found)


@bp.post("/owners/<uuid:owner_id>")
def change_owner(owner_id: UUID) -> ResponseReturnValue:
    """Change the owner."""
    form = OwnerForm()
    found = services.owner_of(db(), person_id=current_user.id, owner_id=owner_id)
    try:
        changed = services.change_owner(
            db(),
            person_id=current_user.id,
            owner_id=owner_id,
            name=form.name.data or "",
            address=form.address.data or "",
            now=now(),
        )
    except InputError as error:
        faults = place_faults(form, error)
        page = render_template(
            "setup/owner.html", form=form, owner=found, elsewhere=faults
        )
        return page, 422
    commit()
    flash("The owner is changed." if changed else "Nothing was changed.")
    return redirect(url_for(".owners"), code=303)
