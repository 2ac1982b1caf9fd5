"""Judging again: choose what, look at what would change, confirm it."""

from io import BytesIO
from uuid import UUID

from flask import flash, redirect, render_template, request, send_file, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.criteria import rejudge_preview
from models.services.criteria.rejudge import StalePreviewError, rejudge
from models.services.criteria.rejudge_scope import choosable
from models.services.criteria.rejudgings import rejudgings
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.turnover.edition_forms import JudgeAgainForm
from webapp.turnover.rejudge_csv import preview_csv
from webapp.turnover.routes import bp

ON_A_PAGE = 200  # readings


@bp.get("/judge-again")
def judge_again() -> ResponseReturnValue:
    """List what may be judged again, and what was."""
    return render_template(
        "turnover/judge_again.html",
        scopes=choosable(db(), person_id=current_user.id),
        acts=rejudgings(db(), person_id=current_user.id),
    )


@bp.get("/judge-again/<kind>/<uuid:subject_id>")
def look_again(kind: str, subject_id: UUID) -> ResponseReturnValue:
    """Show every verdict that would change; nothing is stored."""
    return _page(kind, subject_id, JudgeAgainForm(formdata=None))


@bp.get("/judge-again/<kind>/<uuid:subject_id>/changes.csv")
def changes_file(kind: str, subject_id: UUID) -> ResponseReturnValue:
    """Send every verdict that would change as CSV."""
    shown = _preview(kind, subject_id)
    return send_file(
        BytesIO(preview_csv(shown).encode()),
        mimetype="text/csv",
        as_attachment=True,
        download_name="verdicts-that-would-change.csv",
    )


@bp.post("/judge-again/<kind>/<uuid:subject_id>")
def confirm_again(kind: str, subject_id: UUID) -> ResponseReturnValue:
    """Store what the page showed; show it again if it is not that any more."""
    form = JudgeAgainForm()
    try:
        rejudge(
            db(),
            person_id=current_user.id,
            kind=kind,
            subject_id=subject_id,
            digest=form.digest.data or "",
            reason=form.reason.data or "",
            now=now(),
            new_id=new_id,
        )
    except StalePreviewError as error:
        return _page(kind, subject_id, form, [str(error)]), 409
    except InputError as error:
        return _page(kind, subject_id, form, place_faults(form, error)), 422
    commit()
    flash("Judged again. The earlier verdicts stay readable beside the new ones.")
    return redirect(url_for(".judge_again"), code=303)


def _preview(kind: str, subject_id: UUID) -> rejudge_preview.Preview:
    return rejudge_preview.preview(
        db(), person_id=current_user.id, kind=kind, subject_id=subject_id
    )


def _page(
    kind: str,
    subject_id: UUID,
    form: JudgeAgainForm,
    elsewhere: list[str] | None = None,
) -> str:
    shown = _preview(kind, subject_id)
    pages = max(1, -(-len(shown.lines) // ON_A_PAGE))
    page = min(max(1, request.args.get("page", 1, type=int)), pages)
    form.digest.data = shown.digest
    return render_template(
        "turnover/judge_again_preview.html",
        preview=shown,
        lines=shown.lines[(page - 1) * ON_A_PAGE : page * ON_A_PAGE],
        page=page,
        pages=pages,
        form=form,
        elsewhere=elsewhere or [],
    )
