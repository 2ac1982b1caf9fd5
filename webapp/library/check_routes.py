"""Checking a table against a licensed copy, and what still rests on memory."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.criteria.check_table import review_checks, store_checks
from models.services.criteria.checked_tables import (
    TableState,
    recalled_tables,
    table_to_check,
)
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.library.check_form import CheckForm, acts_of, check_form, sent_again
from webapp.library.routes import REFUSED, bp

STORE, CHANGE = "store", "change"


@bp.get("/memory")
def memory() -> ResponseReturnValue:
    """List the tables with figures from memory, and how many still are."""
    found = recalled_tables(db(), person_id=current_user.id)
    return render_template(
        "library/memory.html",
        tables=found,
        shipped=sum(one.shipped for one in found),
        left=sum(one.left for one in found),
    )


@bp.get("/tables/<key>/check")
def check(key: str) -> ResponseReturnValue:
    """Ask what a licensed copy says of each row."""
    state = table_to_check(db(), person_id=current_user.id, key=key)
    return _form_page(state, check_form(state), [])


@bp.post("/tables/<key>/check")
def check_rows(key: str) -> ResponseReturnValue:
    """Show what would be stored; store it once that was seen."""
    state = table_to_check(db(), person_id=current_user.id, key=key)
    form = check_form(state)
    step = request.form.get("step", "")
    if step == CHANGE:
        return _form_page(state, form, [])
    said = {
        "person_id": current_user.id,
        "key": key,
        "edition": form.edition.data or "",
        "clause": form.clause.data or "",
        "acts": acts_of(form, state),
    }
    try:
        if step != STORE:
            return render_template(
                "library/check_review.html",
                state=state,
                form=form,
                planned=review_checks(db(), **said),
                fields=sent_again(form, said["acts"]),
            )
        count = store_checks(db(), **said, now=now(), new_id=new_id)
    except InputError as error:
        return _form_page(state, form, place_faults(form, error)), REFUSED
    commit()
    flash(f"{count} {'row is' if count == 1 else 'rows are'} checked.")
    return redirect(url_for("library.table", key=key) + "#checked", code=303)


def _form_page(state: TableState, form: CheckForm, faults: list[str]) -> str:
    return render_template("library/check.html", state=state, form=form, faults=faults)
