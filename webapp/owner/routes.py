"""The gear books: list, one lineup's book, the trend of a point, the baseline file."""

from io import BytesIO
from itertools import groupby
from uuid import UUID

from flask import Blueprint, render_template, request, send_file
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.services.owner.gear_book import GearBook, gear_book
from models.services.owner.list_lineups import list_lineups
from models.services.owner.trends import trend
from models.services.turnover.waiting import what_waits
from webapp.db import db
from webapp.looked_for import page_number, words
from webapp.owner.baseline_csv import baseline_csv
from webapp.owner.baseline_parts import cell_parts
from webapp.owner.book_drawing import book_elevation, rows_picture, trend_picture
from webapp.owner.forms import FilterForm
from webapp.owner.pressure_words import assumptions, left_words
from webapp.owner.ways import ways_words
from webapp.waiting_words import WaitingLine, waiting_lines

bp = Blueprint("owner", __name__, url_prefix="/owner", template_folder="templates")


@bp.before_request
@login_required
def signed_in() -> None:
    """Let nobody in who is not signed in."""


@bp.get("/")
def lineups() -> ResponseReturnValue:
    """List the lineups with the state of their baselines."""
    return render_template(
        "owner/lineups.html",
        page=list_lineups(
            db(), person_id=current_user.id, words=words(), page=page_number()
        ),
        waits=_waits() if current_user.has_role("owner") else [],
    )


@bp.get("/lineups/<uuid:lineup_id>")
def book(lineup_id: UUID) -> ResponseReturnValue:
    """Show a lineup's gear book."""
    found = gear_book(db(), person_id=current_user.id, lineup_id=lineup_id)
    form = _filter(found)
    rows = [
        row
        for row in found.rows
        if form.cell.data in ("", row.cell_number)
        and form.procedure.data in ("", row.procedure)
    ]
    return render_template(
        "owner/book.html",
        book=found,
        places=cell_parts(rows),
        shown=len(rows),
        form=form,
        drawings=book_elevation(found, form.cell.data),
        left_words=left_words,
        worse_words=ways_words({row.procedure for row in found.rows}),
        filtered=bool(form.cell.data or form.procedure.data),
    )


@bp.get("/lineups/<uuid:lineup_id>/baseline.csv")
def baseline_file(lineup_id: UUID) -> ResponseReturnValue:
    """Send the baseline and the latest round beside it as CSV."""
    found = gear_book(db(), person_id=current_user.id, lineup_id=lineup_id)
    return send_file(
        BytesIO(baseline_csv(found).encode()),
        mimetype="text/csv",
        as_attachment=True,
        download_name=f"baseline-{found.name}.csv".lower().replace(" ", "-"),
    )


@bp.get("/points/<uuid:point_id>")
def point(point_id: UUID) -> ResponseReturnValue:
    """Show one quantity over the years."""
    found = trend(db(), person_id=current_user.id, point_id=point_id)
    kinds = groupby(found.rows, key=lambda row: row.series.name)
    return render_template(
        "owner/trend.html",
        trend=found,
        picture=trend_picture(found),
        row_kinds=[
            (rows[0].series, rows, rows_picture(rows, found.zone, found.rule))
            for rows in (list(kind) for _, kind in kinds)
        ],
        left=found.pressure and left_words(found.pressure),
        assumptions=found.pressure and assumptions(found.pressure),
    )


def _waits() -> list[WaitingLine]:
    """Return what waits for the owner's engineer; packages are in the list itself."""
    found = what_waits(db(), person_id=current_user.id)
    return waiting_lines(one for one in found if one.kind != "to accept")


def _filter(found: GearBook) -> FilterForm:
    form = FilterForm(request.args, data={"cell": "", "procedure": ""})
    cells = {row.cell_number: row.cell for row in found.rows}
    procedures = {row.procedure: row.title for row in found.rows}
    form.offer(cells.items(), procedures.items())
    form.cell.data = form.cell.data if form.cell.data in cells else ""
    chosen = form.procedure.data
    form.procedure.data = chosen if chosen in procedures else ""
    return form
