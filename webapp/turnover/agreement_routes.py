"""A second person agrees to a decision of the lead, by name and password."""

from uuid import UUID

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.turnover import agreements
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.guessing import counted_try
from webapp.turnover.forms import AgreementForm
from webapp.turnover.routes import bp

DONE = {
    "agreed": "You have agreed; it is logged and printed under your name.",
    "refused": "You have refused; the lead has to decide anew.",
}


@bp.get("/agreements")
def waiting() -> ResponseReturnValue:
    """List what waits for this person's agreement."""
    found = agreements.waiting_agreements(db(), person_id=current_user.id)
    return render_template("turnover/agreements.html", waiting=found)


@bp.get("/agreements/<uuid:subject_id>")
def agreement(subject_id: UUID) -> ResponseReturnValue:
    """Show a decision, and ask for an answer."""
    return _page(subject_id, AgreementForm())


@bp.post("/agreements/<uuid:subject_id>")
def answer(subject_id: UUID) -> ResponseReturnValue:
    """Record the answer."""
    form = AgreementForm()
    if not form.validate():
        return _page(subject_id, form), 422
    try:
        with counted_try(current_user.view.sign_in):
            agreements.answer_decision(
                db(),
                person_id=current_user.id,
                subject_id=subject_id,
                agreement_id=new_id(),
                answer=form.answer.data,
                reason=form.reason.data or "",
                password=form.password.data or "",
                now=now(),
            )
            commit()
    except InputError as error:
        place_faults(form, error)
        return _page(subject_id, form), 422
    flash(DONE[form.answer.data])
    return redirect(url_for("turnover.agreement", subject_id=subject_id), code=303)


def _page(subject_id: UUID, form: AgreementForm) -> str:
    found = agreements.agreement_view(
        db(), person_id=current_user.id, subject_id=subject_id
    )
    return render_template("turnover/agreement.html", found=found, form=form)
