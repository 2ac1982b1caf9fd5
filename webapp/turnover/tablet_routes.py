"""Tablets: which rounds they hold, and what a lead decides about them."""

from uuid import UUID

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import ConflictError, InputError
from models.services.tablets.decide import release_round, revoke_or_admit
from models.services.tablets.listed import listed_tablets
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.turnover.forms import ReasonForm
from webapp.turnover.routes import bp

DONE = {
    "revoke": "The tablet is revoked: it is answered no more.",
    "admit": "The tablet is admitted again.",
}


@bp.get("/tablets")
def tablets() -> ResponseReturnValue:
    """List the tablets, those that a round waits for first."""
    return _page()


@bp.post("/tablets/<uuid:tablet_id>/<any(revoke, admit):act>")
def decide_tablet(tablet_id: UUID, act: str) -> ResponseReturnValue:
    """Close the program to a tablet, or open it again."""
    form = ReasonForm(prefix=f"{act}-{tablet_id}-")
    try:
        revoke_or_admit(
            db(),
            person_id=current_user.id,
            tablet_id=tablet_id,
            act=act,
            reason=form.reason.data or "",
            act_id=new_id(),
            now=now(),
        )
    except (InputError, ConflictError) as error:
        return _refused(form, error)
    commit()
    flash(DONE[act])
    return redirect(url_for(".tablets", _anchor=f"tablet-{tablet_id}"), code=303)


@bp.post("/tablets/<uuid:tablet_id>/rounds/<uuid:round_id>/release")
def release_tablet(tablet_id: UUID, round_id: UUID) -> ResponseReturnValue:
    """Let a round's turnover not wait for a tablet."""
    form = ReasonForm(prefix=f"release-{tablet_id}-{round_id}-")
    try:
        release_round(
            db(),
            person_id=current_user.id,
            tablet_id=tablet_id,
            round_id=round_id,
            reason=form.reason.data or "",
            act_id=new_id(),
            now=now(),
        )
    except (InputError, ConflictError) as error:
        return _refused(form, error)
    commit()
    flash("The round does not wait for this tablet; the package says so.")
    return redirect(url_for(".tablets", _anchor=f"tablet-{tablet_id}"), code=303)


def _refused(
    form: ReasonForm, error: InputError | ConflictError
) -> ResponseReturnValue:
    if isinstance(error, ConflictError):
        return _page(elsewhere=[str(error)]), 409
    return _page(form, place_faults(form, error)), 422


def _page(form: ReasonForm | None = None, elsewhere: list[str] | None = None) -> str:
    """Show the page; *form* is the one with a fault, shown open in its place."""
    found = listed_tablets(db(), person_id=current_user.id)

    def reason(prefix: str) -> ReasonForm:
        """Return the form of a decision: what was typed, or an empty one."""
        if form is not None and form._prefix == prefix:
            return form
        return ReasonForm(formdata=None, prefix=prefix)

    return render_template(
        "turnover/tablets.html",
        found=found,
        reason=reason,
        elsewhere=elsewhere or [],
        clock=now(),
    )
