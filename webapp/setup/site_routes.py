"""The sites: list, add, change, and what stands on one."""

from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import Fault, InputError
from models.services.safety.site_settings import rules_said, settings_to_change
from models.services.setup import owners as owner_services
from models.services.setup import sites as services
from models.services.setup.site_lineups import site_lineups
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.looked_for import wanted
from webapp.setup.forms import ChangeSiteForm, NewSiteForm
from webapp.setup.routes import bp

# Of a new owner that is entered with its site: field of the owner -> of the form.
OF_OWNER = {"name": "owner_name", "address": "owner_address"}


@bp.get("/sites")
def sites() -> ResponseReturnValue:
    """List the sites."""
    page = services.list_sites(db(), person_id=current_user.id, **wanted())
    return render_template("setup/sites.html", page=page, STATES=services.STATES)


@bp.get("/sites/new")
def new_site() -> ResponseReturnValue:
    """Ask for a new site."""
    form = NewSiteForm()
    form.suggest(services.usual_zone(db(), person_id=current_user.id))
    return _new_site_page(form)


@bp.post("/sites/new")
def add_site() -> ResponseReturnValue:
    """Add the site, with its owner where that one is new."""
    form = NewSiteForm()
    site_id = new_id()
    try:
        services.enter_site(
            db(),
            person_id=current_user.id,
            site_id=site_id,
            owner_id=_add_owner(form) if form.names_new_owner else form.owner_id,
            name=form.name.data or "",
            address=form.address.data or "",
            zone=form.zone.data or "",
            now=now(),
        )
    except InputError as error:
        return _new_site_page(form, place_faults(form, error)), 422
    commit()
    flash("The site is added. Next comes its first lineup.")
    return redirect(url_for(".site", site_id=site_id), code=303)


def _add_owner(form: NewSiteForm) -> UUID:
    try:
        return owner_services.add_owner(
            db(),
            person_id=current_user.id,
            owner_id=new_id(),
            name=form.owner_name.data or "",
            address=form.owner_address.data or "",
            now=now(),
        )
    except InputError as error:
        faults = [
            Fault(field=OF_OWNER.get(one.field, one.field), message=one.message)
            for one in error.faults
        ]
        raise InputError(*faults) from error


def _new_site_page(form: NewSiteForm, elsewhere: list[str] | None = None) -> str:
    owners = owner_services.owner_names(db(), person_id=current_user.id)
    form.offer(owners, request.args.get("owner", ""))
    return render_template("setup/new_site.html", form=form, elsewhere=elsewhere)


@bp.get("/sites/<uuid:site_id>")
def site(site_id: UUID) -> ResponseReturnValue:
    """Show a site with its lineups."""
    found = services.site_summary(db(), person_id=current_user.id, site_id=site_id)
    return render_template(
        "setup/site.html",
        site=found,
        lineups=site_lineups(db(), person_id=current_user.id, site_id=site_id),
        rules=rules_said(
            settings_to_change(db(), person_id=current_user.id, site_id=site_id)
        ),
        STATES=services.STATES,
    )


@bp.get("/sites/<uuid:site_id>/change")
def changing_site(site_id: UUID) -> ResponseReturnValue:
    """Show a site, to be changed."""
    found = services.site_summary(db(), person_id=current_user.id, site_id=site_id)
    return render_template(
        "setup/change_site.html", form=ChangeSiteForm(obj=found), site=found
    )


@bp.post("/sites/<uuid:site_id>/change")
def change_site(site_id: UUID) -> ResponseReturnValue:
    """Change the site."""
    form = ChangeSiteForm()
    found = services.site_summary(db(), person_id=current_user.id, site_id=site_id)
    try:
        changed = services.change_site(
            db(),
            person_id=current_user.id,
            site_id=site_id,
            name=form.name.data or "",
            address=form.address.data or "",
            zone=form.zone.data or "",
            contact_correction=form.contact_correction.data or None,
            now=now(),
        )
    except InputError as error:
        faults = place_faults(form, error)
        page = render_template(
            "setup/change_site.html", form=form, site=found, elsewhere=faults
        )
        return page, 422
    commit()
    flash("The site is changed." if changed else "Nothing was changed.")
    return redirect(url_for(".site", site_id=site_id), code=303)
