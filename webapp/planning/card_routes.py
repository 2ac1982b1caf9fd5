"""One card of a plan: its points and limits; and adding a card."""

from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.planning.card_plan import addable_in, card_plan
from models.services.planning.plan_view import plan_view
from webapp.clock import now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.planning.change_routes import changes
from webapp.planning.forms import AddCardForm, PointsForm
from webapp.planning.routes import bp


@bp.get("/<uuid:plan_id>/cards/<key>")
def card(plan_id: UUID, key: str) -> ResponseReturnValue:
    """Show a card with its points, its limits and the baseline's values."""
    return _card_page(plan_id, key, None)


@bp.post("/<uuid:plan_id>/cards/<key>")
def change_points(plan_id: UUID, key: str) -> ResponseReturnValue:
    """Give the card other points."""
    form = PointsForm()
    try:
        changes(plan_id).change_points(key, form.labels, form.reason.data or "")
    except InputError as error:
        elsewhere = place_faults(form, error)
        return _card_page(plan_id, key, form, elsewhere), 422
    commit()
    flash("The points are kept with the plan.")
    return redirect(url_for(".card", plan_id=plan_id, key=key), code=303)


def _card_page(
    plan_id: UUID,
    key: str,
    form: PointsForm | None,
    elsewhere: list[str] | None = None,
) -> str:
    found = card_plan(
        db(), person_id=current_user.id, plan_id=plan_id, key=key, now=now()
    )
    if form is None:
        why = found.line.card.changed
        form = PointsForm(
            formdata=None,
            points="\n".join(found.line.points),
            reason=why.reason if why else "",
        )
    return render_template(
        "planning/card.html",
        found=found,
        plan=found.view,
        line=found.line,
        form=form,
        elsewhere=elsewhere or [],
    )


@bp.get("/<uuid:plan_id>/add")
def adding(plan_id: UUID) -> ResponseReturnValue:
    """Ask for a card that no programme chose."""
    form = AddCardForm(formdata=None, apparatus=request.args.get("apparatus", ""))
    return _add_page(plan_id, form)


@bp.post("/<uuid:plan_id>/add")
def add_card(plan_id: UUID) -> ResponseReturnValue:
    """Add the card."""
    form = AddCardForm()
    try:
        key = changes(plan_id).add_card(
            apparatus_id=form.apparatus_id,
            procedure=form.procedure.data or "",
            detail=form.detail.data or "",
            labels=form.labels,
            reason=form.reason.data or "",
        )
    except InputError as error:
        return _add_page(plan_id, form, place_faults(form, error)), 422
    commit()
    flash("The card is added to the plan.")
    return redirect(url_for(".card", plan_id=plan_id, key=key), code=303)


def _add_page(
    plan_id: UUID, form: AddCardForm, elsewhere: list[str] | None = None
) -> str:
    view = plan_view(db(), person_id=current_user.id, plan_id=plan_id, now=now())
    form.offer(addable_in(db(), person_id=current_user.id, plan_id=plan_id))
    return render_template(
        "planning/add.html",
        plan=view,
        form=form,
        elsewhere=elsewhere or [],
        back=url_for(".plan", plan_id=plan_id),
        what=f"Plan of {view.lineup_name}",
    )
