"""What a lead settles: a reading that is not within, a deficiency."""

from uuid import UUID

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.turnover import card_record as records
from models.services.turnover.close_deficiency import close_deficiency
from models.services.turnover.lead_acts import dispose
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.guessing import counted_try_if_typed
from webapp.turnover.forms import CloseForm, DisposeForm
from webapp.turnover.routes import bp
from webapp.words.reading_globals import typed


@bp.get("/readings/<uuid:reading_id>/dispose")
def dispose_reading(reading_id: UUID) -> ResponseReturnValue:
    """Show a reading with its working, and ask for a decision."""
    return _dispose_page(reading_id, DisposeForm())


@bp.post("/readings/<uuid:reading_id>/dispose")
def decide(reading_id: UUID) -> ResponseReturnValue:
    """Record the decision."""
    form = DisposeForm()
    try:
        with counted_try_if_typed(current_user.view.sign_in, form.password.data):
            dispose(
                db(),
                person_id=current_user.id,
                reading_ids=[reading_id],
                new_id=new_id,
                decision=form.decision.data or "",
                reason=form.reason.data or "",
                password=form.password.data or "",
                now=now(),
            )
            commit()
    except InputError as error:
        place_faults(form, error)
        return _dispose_page(reading_id, form), 422
    flash("The decision is recorded.")
    record = records.card_of_reading(
        db(), person_id=current_user.id, reading_id=reading_id
    )
    return redirect(url_for("turnover.gate_of", round_id=record.head.id), code=303)


def _dispose_page(reading_id: UUID, form: DisposeForm) -> str:
    record = records.card_of_reading(
        db(), person_id=current_user.id, reading_id=reading_id
    )
    point, reading = record.reading(reading_id)
    return render_template(
        "turnover/dispose.html",
        record=record,
        head=record.head,
        point=point,
        reading=reading,
        form=form,
    )


@bp.get("/deficiencies/<uuid:deficiency_id>")
def deficiency(deficiency_id: UUID) -> ResponseReturnValue:
    """Show a deficiency, and how to close it."""
    return _deficiency_page(deficiency_id, None)


@bp.post("/deficiencies/<uuid:deficiency_id>")
def close(deficiency_id: UUID) -> ResponseReturnValue:
    """Close the deficiency."""
    form = _close_form(deficiency_id)
    try:
        close_deficiency(
            db(),
            person_id=current_user.id,
            deficiency_id=deficiency_id,
            closing_id=new_id(),
            reading_id=form.chosen(),
            text=form.text.data or "",
            now=now(),
        )
    except InputError as error:
        place_faults(form, error)
        return _deficiency_page(deficiency_id, form), 422
    commit()
    flash("The deficiency is closed.")
    return redirect(url_for(".deficiency", deficiency_id=deficiency_id), code=303)


def _close_form(deficiency_id: UUID) -> CloseForm:
    _, found = records.card_of_deficiency(
        db(), person_id=current_user.id, deficiency_id=deficiency_id
    )
    form = CloseForm()
    form.offer(
        (
            r["id"],
            f"{r['point']}: {typed(r)}, {r['judgement']['verdict']}, by {r['by']}",
        )
        for r in found["retests"]
    )
    return form


def _deficiency_page(deficiency_id: UUID, form: CloseForm | None) -> str:
    record, found = records.card_of_deficiency(
        db(), person_id=current_user.id, deficiency_id=deficiency_id
    )
    return render_template(
        "turnover/deficiency.html",
        record=record,
        head=record.head,
        deficiency=found,
        form=form or _close_form(deficiency_id),
    )
