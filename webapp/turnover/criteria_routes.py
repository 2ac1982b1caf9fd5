"""What makers and projects give for a lineup: listed, entered, changed, withdrawn.

Each act is looked at before it is stored: the first answer to a form shows what the
rules of today would become, with what was typed carried along.
"""

from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.criteria import criterion_draft, give_criterion
from models.services.criteria.criterion_draft import Wording
from models.services.criteria.given_criteria import (
    CriterionRecord,
    LineupCriteria,
    Preview,
    criterion_record,
    lineup_criteria,
    lineups_with_criteria,
    preview,
)
from models.services.criteria.suggestions import STANDING, suggested_wording
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.turnover.criteria_forms import GiveForm, WithdrawForm, WordingForm
from webapp.turnover.routes import bp


@bp.get("/criteria")
def criteria_lineups() -> ResponseReturnValue:
    """List the lineups with what is given for each."""
    lineups = lineups_with_criteria(db(), person_id=current_user.id)
    return render_template("turnover/criteria_lineups.html", lineups=lineups)


@bp.get("/lineups/<uuid:lineup_id>/criteria")
def criteria(lineup_id: UUID) -> ResponseReturnValue:
    """List what is given for a lineup."""
    return render_template("turnover/criteria.html", listed=_listed(lineup_id))


@bp.get("/lineups/<uuid:lineup_id>/criteria/new")
def ask_criterion(lineup_id: UUID) -> ResponseReturnValue:
    """Ask for a new criterion; `adopt` begins with what is suggested for it."""
    listed = _listed(lineup_id)
    form = _give_form(listed)
    wording = suggested_wording(request.args.get("adopt", ""))
    if wording is not None:
        form.begin_with(wording)
        form.quantity.data = request.args["adopt"]
        form.standing.data, form.scope.data = STANDING, "lineup"
    return _ask_criterion(listed, form)


@bp.post("/lineups/<uuid:lineup_id>/criteria/new")
def give(lineup_id: UUID) -> ResponseReturnValue:
    """Show what a new criterion would do; store it once that was confirmed."""
    listed = _listed(lineup_id)
    form = _give_form(listed)
    if _step() == "edit":
        return _ask_criterion(listed, form)
    key = new_id()
    what = {
        "person_id": current_user.id,
        "lineup_id": lineup_id,
        "criterion_id": key,
        "scope": form.chosen_scope(),
        "quantity": form.quantity.data or "",
        "standing": form.standing.data or "",
        "wording": form.wording(),
        "now": now(),
    }
    try:
        if _step() != "store":
            found = preview(db(), criterion_draft.draft_criterion(db(), **what))
            return _confirm(listed, form, found, url_for(".give", lineup_id=lineup_id))
        give_criterion.give_criterion(db(), **what)
    except InputError as error:
        return _ask_criterion(listed, form, place_faults(form, error)), 422
    commit()
    flash("Entered. Rounds that are opened from now on take it in.")
    return redirect(url_for(".criterion", criterion_id=key), code=303)


@bp.get("/criteria/<uuid:criterion_id>")
def criterion(criterion_id: UUID) -> ResponseReturnValue:
    """Show a criterion with every version and the rounds that carry it."""
    return render_template("turnover/criterion.html", record=_record(criterion_id))


@bp.get("/criteria/<uuid:criterion_id>/change")
def ask_change(criterion_id: UUID) -> ResponseReturnValue:
    """Ask for a new version."""
    record = _record(criterion_id)
    form = WordingForm(seen=str(record.last.version))
    last = record.last
    form.begin_with(
        Wording(
            text=last.text,
            unit=last.unit,
            document=last.document,
            edition=last.edition,
            clause=last.clause,
        )
    )
    return _ask_change(record, form)


@bp.post("/criteria/<uuid:criterion_id>/change")
def change(criterion_id: UUID) -> ResponseReturnValue:
    """Show what a new version would do; store it once that was confirmed."""
    record = _record(criterion_id)
    form = WordingForm()
    if _step() == "edit":
        return _ask_change(record, form)
    what = {
        "person_id": current_user.id,
        "criterion_id": criterion_id,
        "version_id": new_id(),
        "seen": form.version_seen(),
        "wording": form.wording(),
        "now": now(),
    }
    try:
        if _step() != "store":
            found = preview(db(), criterion_draft.draft_change(db(), **what))
            back = url_for(".change", criterion_id=criterion_id)
            return _confirm(record, form, found, back)
        give_criterion.change_criterion(db(), **what)
    except InputError as error:
        return _ask_change(record, form, place_faults(form, error)), 422
    commit()
    flash("The new version holds. Rounds under way keep the one that they carry.")
    return redirect(url_for(".criterion", criterion_id=criterion_id), code=303)


@bp.get("/criteria/<uuid:criterion_id>/withdraw")
def ask_withdrawal(criterion_id: UUID) -> ResponseReturnValue:
    """Ask where and why a criterion is withdrawn."""
    record = _record(criterion_id)
    return _ask_withdrawal(record, WithdrawForm(seen=str(record.last.version)))


@bp.post("/criteria/<uuid:criterion_id>/withdraw")
def withdraw_criterion(criterion_id: UUID) -> ResponseReturnValue:
    """Show what withdrawing would do; do it once that was confirmed."""
    record = _record(criterion_id)
    form = WithdrawForm()
    if _step() == "edit":
        return _ask_withdrawal(record, form)
    what = {
        "person_id": current_user.id,
        "criterion_id": criterion_id,
        "version_id": new_id(),
        "seen": form.version_seen(),
        "document": form.document.data or "",
        "reason": form.reason.data or "",
        "now": now(),
    }
    try:
        if _step() != "store":
            found = preview(db(), criterion_draft.draft_withdrawal(db(), **what))
            back = url_for(".withdraw_criterion", criterion_id=criterion_id)
            return _confirm(record, form, found, back)
        give_criterion.withdraw_criterion(db(), **what)
    except InputError as error:
        return _ask_withdrawal(record, form, place_faults(form, error)), 422
    commit()
    flash("Withdrawn. What it decided stays as it is.")
    return redirect(url_for(".criterion", criterion_id=criterion_id), code=303)


def _step() -> str:
    return request.form.get("step", "look")


def _listed(lineup_id: UUID) -> LineupCriteria:
    return lineup_criteria(db(), person_id=current_user.id, lineup_id=lineup_id)


def _record(criterion_id: UUID) -> CriterionRecord:
    return criterion_record(db(), person_id=current_user.id, criterion_id=criterion_id)


def _give_form(listed: LineupCriteria) -> GiveForm:
    form = GiveForm()
    form.offer(listed.scopes)
    return form


def _ask_criterion(
    listed: LineupCriteria, form: GiveForm, elsewhere: list[str] | None = None
) -> str:
    return render_template(
        "turnover/give.html",
        place=listed.place,
        form=form,
        record=None,
        elsewhere=elsewhere or [],
    )


def _ask_change(
    record: CriterionRecord, form: WordingForm, elsewhere: list[str] | None = None
) -> str:
    return render_template(
        "turnover/give.html",
        place=record.place,
        form=form,
        record=record,
        elsewhere=elsewhere or [],
    )


def _ask_withdrawal(
    record: CriterionRecord, form: WithdrawForm, elsewhere: list[str] | None = None
) -> str:
    return render_template(
        "turnover/withdraw_criterion.html",
        place=record.place,
        form=form,
        record=record,
        elsewhere=elsewhere or [],
    )


def _confirm(
    about: LineupCriteria | CriterionRecord,
    form: WordingForm | WithdrawForm,
    found: Preview,
    action: str,
) -> str:
    return render_template(
        "turnover/confirm_criterion.html",
        place=about.place,
        form=form,
        found=found,
        action=action,
    )
