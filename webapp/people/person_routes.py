"""One person: roles, sites, links, deactivating."""

from uuid import UUID

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import ConflictError, InputError
from models.services.people import assignments, change_person, invitations
from models.services.people.person_record import PersonRecord, person_record
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.people.forms import AssignForm, EndForm, RolesForm, WhyForm
from webapp.people.links import new_token, show_link
from webapp.people.routes import bp


@bp.get("/<uuid:person_id>")
def person(person_id: UUID) -> ResponseReturnValue:
    """Show a person."""
    return _page(person_id)


@bp.post("/<uuid:person_id>/roles")
def change_roles(person_id: UUID) -> ResponseReturnValue:
    """Give the person these roles."""
    form = RolesForm()
    try:
        changed = change_person.change_roles(
            db(),
            by_id=current_user.id,
            person_id=person_id,
            roles=form.roles.data or (),
            seen_version=form.seen_version,
            now=now(),
            new_id=new_id,
        )
    except InputError as error:
        place_faults(form, error)
        return _page(person_id, roles_form=form), 422
    except ConflictError as error:
        return _page(person_id, roles_form=form, said=[str(error)]), 409
    commit()
    flash("The roles are changed." if changed else "Nothing was changed.")
    return _back(person_id)


@bp.post("/<uuid:person_id>/sites")
def assign(person_id: UUID) -> ResponseReturnValue:
    """Assign the person to a site."""
    form = AssignForm()
    if not (form.site.data or "").strip():
        form.site.errors = ["Choose the site."]
        return _page(person_id, assign_form=form), 422
    if not form.validate():
        return _page(person_id, assign_form=form), 422
    try:
        assignments.assign_person(
            db(),
            by_id=current_user.id,
            person_id=person_id,
            site_id=UUID(form.site.data),
            from_day=form.from_day.data,
            until_day=form.until_day.data,
            now=now(),
        )
    except InputError as error:
        place_faults(form, error)
        return _page(person_id, assign_form=form), 422
    except ValueError:
        form.site.errors = ["Choose the site."]
        return _page(person_id, assign_form=form), 422
    commit()
    flash("The site is assigned.")
    return _back(person_id)


@bp.post("/<uuid:person_id>/sites/<uuid:assignment_id>/end")
def end_assignment(person_id: UUID, assignment_id: UUID) -> ResponseReturnValue:
    """Set the last day of an assignment."""
    form = EndForm()
    if not form.validate():
        return _page(person_id, said=["Write the last day as a date."]), 422
    try:
        assignments.end_assignment(
            db(),
            by_id=current_user.id,
            assignment_id=assignment_id,
            until_day=form.until_day.data,
            now=now(),
        )
    except InputError as error:
        return _page(person_id, said=[f.message for f in error.faults]), 422
    commit()
    flash("The last day is set.")
    return _back(person_id)


@bp.post("/<uuid:person_id>/link")
def make_link(person_id: UUID) -> ResponseReturnValue:
    """Make a link, and show it this once."""
    token = new_token()
    made = invitations.make_link(
        db(),
        by_id=current_user.id,
        person_id=person_id,
        token=token,
        now=now(),
        new_id=new_id,
    )
    commit()
    return show_link(made, token)


@bp.post("/<uuid:person_id>/links/<uuid:invitation_id>/withdraw")
def withdraw_link(person_id: UUID, invitation_id: UUID) -> ResponseReturnValue:
    """Make a link useless."""
    invitations.withdraw_invitation(
        db(), by_id=current_user.id, invitation_id=invitation_id, now=now()
    )
    commit()
    flash("The link works no more.")
    return _back(person_id)


@bp.get("/<uuid:person_id>/active")
def ask_active(person_id: UUID) -> ResponseReturnValue:
    """Ask why somebody is deactivated or reactivated."""
    found = _record(person_id)
    form = WhyForm(formdata=None, version=found.version)
    return render_template("people/active.html", form=form, person=found)


@bp.post("/<uuid:person_id>/active")
def change_active(person_id: UUID) -> ResponseReturnValue:
    """Deactivate who is active, reactivate who is not."""
    form = WhyForm()
    found = _record(person_id)
    act = (
        change_person.reactivate
        if found.state == "deactivated"
        else change_person.deactivate
    )
    try:
        act(
            db(),
            by_id=current_user.id,
            person_id=person_id,
            reason=form.reason.data or "",
            seen_version=form.seen_version,
            now=now(),
        )
    except InputError as error:
        place_faults(form, error)
        return render_template("people/active.html", form=form, person=found), 422
    except ConflictError as error:
        form.version.data = str(found.version)
        said = [str(error)]
        page = render_template(
            "people/active.html", form=form, person=found, elsewhere=said
        )
        return page, 409
    commit()
    flash(
        f"{found.name} can sign in again."
        if found.state == "deactivated"
        else f"{found.name} is deactivated."
    )
    return _back(person_id)


def _record(person_id: UUID) -> PersonRecord:
    return person_record(db(), by_id=current_user.id, person_id=person_id, now=now())


def _back(person_id: UUID) -> ResponseReturnValue:
    return redirect(url_for(".person", person_id=person_id), code=303)


def _page(
    person_id: UUID,
    *,
    roles_form: RolesForm | None = None,
    assign_form: AssignForm | None = None,
    said: list[str] | None = None,
) -> str:
    """Return the person's page; what was typed in a form stays in it."""
    db().rollback()  # what a refused act may have begun
    found = _record(person_id)
    roles = roles_form or RolesForm(formdata=None, roles=found.roles)
    roles.version.data = str(found.version)
    roles.offer(found.roles_to_choose)
    assigning = assign_form or AssignForm(formdata=None)
    assigning.offer(assignments.sites_to_assign(db(), by_id=current_user.id))
    return render_template(
        "people/person.html",
        person=found,
        roles_form=roles,
        assign_form=assigning,
        end_form=EndForm(formdata=None),
        said=said,
    )
