"""The library: all tables, one table, what would be required."""

from collections.abc import Sequence

from flask import Blueprint, render_template, request
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.criteria import library
from models.criteria.loader import table_files
from models.criteria.table_file import SUBJECTS
from models.errors import InputError
from models.fields import read_value
from models.services.criteria.checked_tables import (
    checked_tables,
    organisation_criteria,
    table_state,
)
from webapp.db import db
from webapp.form_faults import place_faults
from webapp.library.forms import RequiredForm, SearchForm
from webapp.library.other_prints import other_prints
from webapp.library.pictures import picture
from webapp.library.subjects import by_subject
from webapp.library.table_page import count_words, table_page

bp = Blueprint("library", __name__, url_prefix="/library", template_folder="templates")

REFUSED = 422
EXAMPLE = {"gear": "metal_clad", "rated_kv": "15", "apparatus": "breaker"}
DECISION_WORDS = {
    "guarded": "By U where the accuracy of the instrument is known: a limit is met or "
    "missed only beyond U, and in between the reading is marginal. Without an "
    "accuracy: simple acceptance.",
    "simple": "Simple acceptance: the accuracy of the instrument plays no part.",
}


@bp.before_request
@login_required
def signed_in() -> None:
    """Let nobody in who is not signed in."""


@bp.get("/")
def tables() -> ResponseReturnValue:
    """List every table by subject, or those in which the words asked for occur."""
    form = SearchForm(request.args)
    words = (form.q.data or "").strip()
    shown = {table.key: table for table in library.tables()}
    rows: dict[str, list[str]] = {}
    if words:
        hits = library.find(words)
        shown = {hit.table.key: hit.table for hit in hits}
        for hit in hits:
            if hit.row is not None:
                rows.setdefault(hit.table.key, []).append(hit.row.name)
    found = checked_tables(db(), person_id=current_user.id)
    return render_template(
        "library/tables.html",
        form=form,
        words=words,
        rows=rows,
        shown=len(shown),
        groups=by_subject(shown.values()),
        all=len(library.tables()),
        counts={key: count_words(found[key].counts) for key in shown},
    )


@bp.get("/tables/<key>")
def table(key: str) -> ResponseReturnValue:
    """Show one table, with its picture and the other prints of it."""
    state = table_state(db(), person_id=current_user.id, key=key)
    found = state.table
    return render_template(
        "library/table.html",
        table=found,
        state=state,
        page=table_page(found),
        counts=count_words(found.counts),
        picture=picture(table_files()[key]),
        others=other_prints(table_files()[key], table_files()),
    )


@bp.get("/required")
def required() -> ResponseReturnValue:
    """Show what would be required of an apparatus, procedure by procedure."""
    # It opens with an example: an empty page says nothing of what it is for.
    form = RequiredForm(request.args, data=EXAMPLE)
    form.offer((kind, kind.replace("_", " ")) for kind in SUBJECTS)
    asked = "rated_kv" in (request.args or EXAMPLE)
    found: Sequence[library.Requirement] | None = None
    faults: list[str] = []
    if asked:
        try:
            found = library.required(
                form.gear.data,
                read_value("rated_kv", form.rated_kv.data or ""),
                form.apparatus.data,
                organisation_criteria(db(), person_id=current_user.id),
            )
        except InputError as error:
            faults = place_faults(form, error)
    page = render_template(
        "library/required.html",
        form=form,
        found=found,
        tables=[] if found is None else by_subject(library.about(form.apparatus.data)),
        faults=faults,
        decisions=DECISION_WORDS,
        example=not request.args,
    )
    return page, REFUSED if asked and found is None else 200
