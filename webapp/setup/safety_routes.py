"""The safety of a site: whose rules govern, and its figures."""

from uuid import UUID

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.criteria.safety import governs, rule_sets
from models.errors import InputError
from models.services.safety import site_settings as services
from models.services.setup.sites import site_summary
from webapp.clock import now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.setup.routes import bp
from webapp.setup.safety_form import SafetyForm


@bp.get("/sites/<uuid:site_id>/safety")
def safety_of_site(site_id: UUID) -> ResponseReturnValue:
    """Show what holds on the site, to be changed."""
    form = SafetyForm(formdata=None)
    form.begin_with(
        services.settings_to_change(db(), person_id=current_user.id, site_id=site_id)
    )
    return _page(site_id, form)


@bp.post("/sites/<uuid:site_id>/safety")
def change_safety(site_id: UUID) -> ResponseReturnValue:
    """Change what holds on the site."""
    form = SafetyForm()
    try:
        changed = services.change_settings(
            db(),
            person_id=current_user.id,
            site_id=site_id,
            rule_set=form.rule_set.data or "",
            rule_set_text=form.rule_set_text.data or "",
            shift_hours=form.figure("shift_hours"),
            idle_minutes=form.figure("idle_minutes"),
            discharge_least_s=form.figure("discharge_least_s"),
            now=now(),
        )
    except InputError as error:
        return _page(site_id, form, place_faults(form, error)), 422
    commit()
    flash("The safety of the site is changed." if changed else "Nothing was changed.")
    return redirect(url_for(".site", site_id=site_id), code=303)


def _page(site_id: UUID, form: SafetyForm, elsewhere: list[str] | None = None) -> str:
    form.offer((code, f"{one.name}: {one.where}") for code, one in rule_sets().items())
    return render_template(
        "setup/safety.html",
        site=site_summary(db(), person_id=current_user.id, site_id=site_id),
        form=form,
        elsewhere=elsewhere or [],
        governs=governs(),
    )
