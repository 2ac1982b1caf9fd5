"""Change the plan: leave cards out, give them to people and days, name editions."""

from collections.abc import Mapping
from datetime import date
from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import Fault, InputError
from models.services.planning.change_plan import PlanChanges
from models.services.planning.plan_view import plan_view
from webapp.clock import now
from webapp.db import commit, db
from webapp.planning.routes import bp, chosen_cell, plan_page
from webapp.planning.scopes import TICKED, keys_of, planned_only


@bp.post("/<uuid:plan_id>/cards")
def change_cards(plan_id: UUID) -> ResponseReturnValue:
    """Change the cards that are ticked, or all of a cell, a procedure, the round."""
    try:
        said = _change_cards(plan_id, request.form.get("act", ""))
    except InputError as error:
        return plan_page(plan_id, [fault.message for fault in error.faults]), 422
    commit()
    flash(said)
    return _back(plan_id)


def _change_cards(plan_id: UUID, act: str) -> str:
    view = plan_view(db(), person_id=current_user.id, plan_id=plan_id, now=now())
    scope = request.form.get("scope", TICKED)
    keys = keys_of(view, chosen_cell(view), scope, request.form.getlist("cards"))
    change = changes(plan_id)
    if act == "put_back":
        keys = planned_only(view, keys, planned=False)
        change.put_back(keys)
        return f"{_count(keys)} in the plan again."
    keys = planned_only(view, keys, planned=True)
    if act == "leave_out":
        change.leave_out(keys, request.form.get("reason", ""))
        return f"{_count(keys)} left out."
    if act == "assign":
        to_id = read_person(request.form)
        change.assign(keys, to_id)
        return f"{_count(keys)} {'assigned' if to_id else 'open to anybody'}."
    if act == "schedule":
        change.schedule(keys, read_day(request.form))
        return f"The day of {_count(keys)} is planned."
    raise InputError(Fault(field="act", message="Choose what is to be done."))


def _count(keys: list[str]) -> str:
    return "1 card" if len(keys) == 1 else f"{len(keys)} cards"


def changes(plan_id: UUID) -> PlanChanges:
    """Return the changes of a plan by the person of this request."""
    return PlanChanges(db(), person_id=current_user.id, plan_id=plan_id, now=now())


def read_person(form: Mapping[str, str]) -> UUID | None:
    """Return who is chosen, None for nobody in particular."""
    said = form.get("assigned_to", "")
    try:
        return UUID(said) if said else None
    except ValueError as error:
        message = "Choose somebody of the list."
        raise InputError(Fault(field="assigned_to", message=message)) from error


def read_day(form: Mapping[str, str]) -> date | None:
    """Return the day that is chosen, None for none."""
    said = form.get("planned_on", "")
    try:
        return date.fromisoformat(said) if said else None
    except ValueError as error:
        message = f"'{said[:20]}' is no day: write it as 2026-03-04."
        raise InputError(Fault(field="planned_on", message=message)) from error


def _back(plan_id: UUID) -> ResponseReturnValue:
    cell = request.form.get("cell") or None
    address = url_for(".plan", plan_id=plan_id, cell=cell, _anchor="cards")
    return redirect(address, code=303)


@bp.post("/<uuid:plan_id>/outside")
def let_outside_stand(plan_id: UUID) -> ResponseReturnValue:
    """Say what an outside reading that is let stand makes of the round."""
    try:
        changes(plan_id).let_outside_stand(request.form.get("outside_let_stand", ""))
    except InputError as error:
        return plan_page(plan_id, [fault.message for fault in error.faults]), 422
    commit()
    flash("The rule for outside readings is kept.")
    return _back(plan_id)


@bp.get("/<uuid:plan_id>/editions")
def editions(plan_id: UUID) -> ResponseReturnValue:
    """Ask which edition the contract names, with what each changes here."""
    return _editions_page(plan_id, {})


@bp.post("/<uuid:plan_id>/editions")
def answer_editions(plan_id: UUID) -> ResponseReturnValue:
    """Keep the answers."""
    view = plan_view(db(), person_id=current_user.id, plan_id=plan_id, now=now())
    faults: dict[str, str] = {}
    for question in view.questions:
        table = question.table
        try:
            changes(plan_id).answer_edition(
                table,
                request.form.get(f"print_{table}", ""),
                request.form.get(f"document_{table}", ""),
            )
        except InputError as error:
            faults |= {fault.field: fault.message for fault in error.faults}
    if faults:
        db().rollback()
        return _editions_page(plan_id, faults), 422
    commit()
    flash("The editions are kept with the plan.")
    return _back(plan_id)


def _editions_page(plan_id: UUID, faults: dict[str, str]) -> str:
    view = plan_view(db(), person_id=current_user.id, plan_id=plan_id, now=now())
    return render_template(
        "planning/editions.html", plan=view, faults=faults, typed=request.form
    )
