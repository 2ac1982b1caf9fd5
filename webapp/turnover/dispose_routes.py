"""Deciding on several readings of one verdict at once, with one reason."""

from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.turnover.lead_acts import dispose
from models.services.turnover.to_dispose import readings_to_dispose
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.guessing import counted_try_if_typed
from webapp.turnover.forms import DisposeForm
from webapp.turnover.routes import bp


@bp.get("/rounds/<uuid:round_id>/dispose/<verdict>")
def ask_several(round_id: UUID, verdict: str) -> ResponseReturnValue:
    """Show the readings that wait, and ask for one decision."""
    return _page(round_id, verdict, DisposeForm())


@bp.post("/rounds/<uuid:round_id>/dispose/<verdict>")
def decide_several(round_id: UUID, verdict: str) -> ResponseReturnValue:
    """Record the decision on those that were chosen, all or none."""
    form = DisposeForm()
    chosen = request.form.getlist("reading", type=UUID)
    try:
        with counted_try_if_typed(current_user.view.sign_in, form.password.data):
            dispose(
                db(),
                person_id=current_user.id,
                reading_ids=chosen,
                decision=form.decision.data or "",
                reason=form.reason.data or "",
                password=form.password.data or "",
                now=now(),
                new_id=new_id,
            )
            commit()
    except InputError as error:
        elsewhere = place_faults(form, error)
        return _page(round_id, verdict, form, chosen, elsewhere), 422
    many = "reading" if len(chosen) == 1 else "readings"
    flash(f"The decision on {len(chosen)} {many} is recorded.")
    return redirect(url_for("turnover.gate_of", round_id=round_id), code=303)


def _page(
    round_id: UUID,
    verdict: str,
    form: DisposeForm,
    chosen: list[UUID] | None = None,
    elsewhere: list[str] | None = None,
) -> str:
    """Show the page; at first every reading is chosen that they may decide on."""
    found = readings_to_dispose(
        db(), person_id=current_user.id, round_id=round_id, verdict=verdict
    )
    return render_template(
        "turnover/dispose_several.html",
        found=found,
        head=found.head,
        form=form,
        chosen=None if chosen is None else {str(one) for one in chosen},
        elsewhere=elsewhere or [],
    )
