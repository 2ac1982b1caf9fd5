"""Hold, witness and review points: set by a lead, answered by whom they wait for."""

from datetime import datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import Fault, InputError
from models.services.turnover import inspection_views as views
from models.services.turnover import inspections
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.guessing import counted_try_if_typed
from webapp.turnover.inspection_forms import (
    NoticeForm,
    PointAnswerForm,
    SetPointForm,
)
from webapp.turnover.routes import bp


@bp.get("/inspections")
def waiting_inspections() -> ResponseReturnValue:
    """List the points that wait, those for who is asking first."""
    rows = views.waiting_inspections(db(), person_id=current_user.id)
    return render_template("turnover/inspections.html", rows=rows)


@bp.get("/rounds/<uuid:round_id>/inspections")
def round_inspections(round_id: UUID) -> ResponseReturnValue:
    """List the points of a round, with a form to set one."""
    return _round_page(round_id, SetPointForm(), [])


@bp.post("/rounds/<uuid:round_id>/inspections")
def set_point(round_id: UUID) -> ResponseReturnValue:
    """Set a point on the cards that were chosen."""
    form = SetPointForm()
    cards = request.form.getlist("card", type=UUID)
    try:
        made = inspections.set_inspection_points(
            db(),
            person_id=current_user.id,
            card_ids=cards,
            kind=form.kind.data or "",
            party=form.party.data or "",
            party_id=request.form.get("party_id", type=UUID),
            notice_hours=_hours(form.notice_hours.data or ""),
            reason=form.reason.data or "",
            now=now(),
            new_id=new_id,
        )
    except InputError as error:
        elsewhere = place_faults(form, error)
        return _round_page(round_id, form, cards, elsewhere), 422
    commit()
    flash("The point is set." if len(made) == 1 else f"{len(made)} points are set.")
    return redirect(url_for(".round_inspections", round_id=round_id), code=303)


@bp.get("/inspections/<uuid:point_id>")
def inspection(point_id: UUID) -> ResponseReturnValue:
    """Show a point, with what may be done about it."""
    return _page(point_id)


@bp.post("/inspections/<uuid:point_id>/notice")
def give_notice(point_id: UUID) -> ResponseReturnValue:
    """Record that notice was given."""
    form = NoticeForm()
    found = _view(point_id)
    try:
        inspections.give_notice(
            db(),
            person_id=current_user.id,
            point_id=point_id,
            notice_id=new_id(),
            given_at=_at_site(form.given_at.data, "given_at", found.head.zone),
            work_at=_at_site(form.work_at.data, "work_at", found.head.zone),
            how=form.how.data or "",
            now=now(),
        )
    except InputError as error:
        place_faults(form, error)
        return _page(point_id, notice=form), 422
    commit()
    flash("The notice is recorded. The program sends nothing: you told them.")
    return redirect(url_for(".inspection", point_id=point_id), code=303)


@bp.post("/inspections/<uuid:point_id>/answer")
def answer_point(point_id: UUID) -> ResponseReturnValue:
    """Record what came of the point, by who is signed in."""
    me = views.Party(id=current_user.id, sign_in=current_user.view.sign_in)
    return _answer(point_id, me, PointAnswerForm(), here=False)


@bp.post("/inspections/<uuid:point_id>/here")
def answer_here(point_id: UUID) -> ResponseReturnValue:
    """Record what the party itself answers, on the device of one who works there."""
    party = views.party_of(db(), person_id=current_user.id, point_id=point_id)
    return _answer(point_id, party, PointAnswerForm(prefix="party-"), here=True)


def _answer(
    point_id: UUID, party: views.Party, form: PointAnswerForm, *, here: bool
) -> ResponseReturnValue:
    try:
        with counted_try_if_typed(party.sign_in, form.password.data):
            inspections.answer_inspection_point(
                db(),
                person_id=party.id,
                point_id=point_id,
                answer_id=new_id(),
                answer=form.answer.data or "",
                remark=form.remark.data or "",
                password=form.password.data or "",
                now=now(),
            )
            commit()
    except InputError as error:
        place_faults(form, error)
        shown = {"party": form} if here else {"answer": form}
        return _page(point_id, **shown), 422
    flash("It is recorded, and printed in the package.")
    return redirect(url_for(".inspection", point_id=point_id), code=303)


def _view(point_id: UUID) -> views.InspectionView:
    return views.inspection_view(
        db(), person_id=current_user.id, point_id=point_id, now=now()
    )


def _page(
    point_id: UUID,
    *,
    notice: NoticeForm | None = None,
    answer: PointAnswerForm | None = None,
    party: PointAnswerForm | None = None,
) -> str:
    found = _view(point_id)
    answer = answer or PointAnswerForm(formdata=None)
    answer.offer(found.answers)
    party = party or PointAnswerForm(formdata=None, prefix="party-")
    party.offer(found.party_answers)
    return render_template(
        "turnover/inspection.html",
        found=found,
        head=found.head,
        point=found.point,
        notice=notice or NoticeForm(formdata=None),
        answer=answer,
        party=party,
    )


def _round_page(
    round_id: UUID,
    form: SetPointForm,
    chosen: list[UUID],
    elsewhere: list[str] | None = None,
) -> str:
    found = views.round_inspections(db(), person_id=current_user.id, round_id=round_id)
    form.offer(found.parties)
    return render_template(
        "turnover/round_inspections.html",
        found=found,
        head=found.head,
        form=form,
        chosen=chosen,
        elsewhere=elsewhere or [],
    )


def _hours(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        message = f"'{text}' is no number of hours: write 24, say."
        raise InputError(Fault(field="notice_hours", message=message)) from None


def _at_site(value: datetime | None, field: str, zone: str) -> datetime:
    """Return the time that was typed, which is the site's."""
    if value is None:
        message = "Write day and time, such as 2026-11-29 08:30."
        raise InputError(Fault(field=field, message=message))
    return value.replace(tzinfo=ZoneInfo(zone))
