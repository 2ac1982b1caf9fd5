"""The rounds, the gate of one, and its schedule of cards."""

from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.errors import InputError
from models.services.owner.list_lineups import lineup_names
from models.services.planning.draft import begin_plan
from models.services.setup.programmes import programmes
from models.services.turnover.gate import gate
from models.services.turnover.list_rounds import list_rounds
from models.services.turnover.round_choices import round_choices
from models.services.turnover.round_overview import round_overview
from models.services.turnover.waiting import what_waits
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.first_steps_shown import steps_before_a_round
from webapp.form_faults import place_faults
from webapp.looked_for import wanted
from webapp.turnover.elevation import drawn
from webapp.turnover.forms import OpenRoundForm
from webapp.turnover.gate_words import headline, link_of, several_link
from webapp.waiting_words import waiting_lines

bp = Blueprint(
    "turnover", __name__, url_prefix="/turnover", template_folder="templates"
)


@bp.before_request
@login_required
def signed_in() -> None:
    """Let nobody in who is not signed in."""


@bp.get("/")
def rounds() -> ResponseReturnValue:
    """List the rounds, with a form to open one."""
    form = _open_form()
    form.lineup.data = form.lineup.data or request.args.get("lineup", "")
    return _rounds(form)


@bp.post("/rounds")
def plan_round() -> ResponseReturnValue:
    """Begin to plan a round, or go on where its plan was left."""
    form = _open_form()
    elsewhere: list[str] = []
    if form.validate():
        try:
            plan_id = begin_plan(
                db(),
                person_id=current_user.id,
                lineup_id=UUID(form.lineup.data),
                kind=form.kind.data,
                programme=form.programme.data,
                now=now(),
                new_id=new_id,
            )
        except InputError as error:
            elsewhere = place_faults(form, error)
        else:
            commit()
            return redirect(url_for("planning.plan", plan_id=plan_id), code=303)
    return _rounds(form, elsewhere), 422


@bp.get("/rounds/<uuid:round_id>")
def gate_of(round_id: UUID) -> ResponseReturnValue:
    """Show what still stands between the round and its turnover."""
    found = gate(db(), person_id=current_user.id, round_id=round_id)
    sheet = round_overview(db(), person_id=current_user.id, round_id=round_id)
    return render_template(
        "turnover/gate.html",
        gate=found,
        sheet=sheet,
        head=sheet.head,
        headline=headline(found),
        link_of=link_of,
        several_link=several_link,
        drawings=drawn(sheet),
    )


@bp.get("/rounds/<uuid:round_id>/cards")
def cards(round_id: UUID) -> ResponseReturnValue:
    """Show the schedule of the round's cards, cell by cell."""
    sheet = round_overview(db(), person_id=current_user.id, round_id=round_id)
    return render_template(
        "turnover/cards.html", sheet=sheet, head=sheet.head, drawings=drawn(sheet)
    )


def _open_form() -> OpenRoundForm:
    form = OpenRoundForm()
    form.offer(
        lineup_names(db(), person_id=current_user.id),
        (programme.name for programme in programmes()),
    )
    return form


def _rounds(form: OpenRoundForm, elsewhere: list[str] | None = None) -> str:
    page = list_rounds(
        db(),
        person_id=current_user.id,
        site_id=request.args.get("site", type=UUID),
        worked_by=request.args.get("person", type=UUID),
        **wanted(),
    )
    return render_template(
        "turnover/rounds.html",
        page=page,
        steps=[] if page.total else steps_before_a_round(),
        waits=waiting_lines(what_waits(db(), person_id=current_user.id)),
        choices=round_choices(db(), person_id=current_user.id),
        form=form,
        elsewhere=elsewhere or [],
    )
