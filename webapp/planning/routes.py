"""The plan of a round: its page, opening it, throwing it away."""

from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.errors import InputError
from models.services.planning.draft import drop_plan, open_plan
from models.services.planning.plan_view import PlanCell, PlanView, plan_view
from models.services.setup.nameplate import nameplate_lines
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.planning.elevation import drawn
from webapp.planning.scopes import scopes_of

bp = Blueprint(
    "planning", __name__, url_prefix="/planning", template_folder="templates"
)

bp.add_app_template_filter(nameplate_lines, "field_lines")


@bp.before_request
@login_required
def signed_in() -> None:
    """Let nobody in who is not signed in."""


@bp.get("/<uuid:plan_id>")
def plan(plan_id: UUID) -> ResponseReturnValue:
    """Show the plan, with the cards of one cell."""
    return plan_page(plan_id)


@bp.post("/<uuid:plan_id>/open")
def open_round(plan_id: UUID) -> ResponseReturnValue:
    """Open the round as it is planned."""
    try:
        round_id = open_plan(
            db(),
            person_id=current_user.id,
            plan_id=plan_id,
            now=now(),
            new_id=new_id,
        )
    except InputError as error:
        return plan_page(plan_id, [fault.message for fault in error.faults]), 422
    commit()
    flash("The round is open. Technicians can take it onto their tablets.")
    return redirect(url_for("turnover.gate_of", round_id=round_id), code=303)


@bp.post("/<uuid:plan_id>/drop")
def drop(plan_id: UUID) -> ResponseReturnValue:
    """Throw the plan away."""
    drop_plan(db(), person_id=current_user.id, plan_id=plan_id)
    commit()
    flash("The plan is thrown away. Nothing of it was a record.")
    return redirect(url_for("turnover.rounds"), code=303)


def plan_page(plan_id: UUID, faults: list[str] | None = None) -> str:
    """Return the page of a plan; *faults* are said at its head."""
    view = plan_view(db(), person_id=current_user.id, plan_id=plan_id, now=now())
    chosen = chosen_cell(view)
    return render_template(
        "planning/plan.html",
        plan=view,
        cell=chosen,
        drawings=drawn(view, chosen),
        scopes=scopes_of(view, chosen),
        faults=faults or [],
        typed=request.form,
    )


def chosen_cell(view: PlanView) -> PlanCell | None:
    """Return the cell that is asked for, else the first with a card."""
    asked = request.values.get("cell", "")
    for cell in view.cells:
        if str(cell.id) == asked:
            return cell
    return next((cell for cell in view.cells if cell.lines), None)
