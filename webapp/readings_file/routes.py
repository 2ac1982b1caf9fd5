"""Choose the columns of a file, look at what its rows would be, record them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required
from werkzeug.datastructures import MultiDict

from models.analysis.tables import read_any_table
from models.analysis.tables.places import letter
from models.errors import InputError, NotFoundError
from models.record.readings_table import Columns, read_readings
from models.record.readings_table.columns import rows_left_out
from models.record.readings_table.read import Row, named
from models.services.keeping.attachments import AttachmentView
from models.services.readings_file.file_card import FileCard, file_card
from models.services.readings_file.kept_columns import Kept, keep_columns, kept_columns
from models.services.readings_file.take_rows import FileOf, TriedRow, take_rows
from webapp.clock import now
from webapp.db import close, commit, db, read_session, write_session
from webapp.file_store import store
from webapp.readings_file.forms import CONDITION, GIVEN, ColumnsForm, as_chosen, likely

bp = Blueprint(
    "readings_file", __name__, url_prefix="/readings-file", template_folder="templates"
)
FIRST_ROWS = 6  # that are shown
MOST_READINGS = 200  # of one file, so that each is looked at


@bp.before_request
@login_required
def signed_in() -> None:
    """Let nobody in who is not signed in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Import:
    """A card, one of its files, and what is chosen of it."""

    card: FileCard
    file: AttachmentView
    instrument_id: UUID | None
    sheets: Mapping[str, Sequence[Row]]
    form: ColumnsForm
    conditions: Mapping[str, int]
    given: Mapping[str, str]  # conditions of all rows
    kept: Kept | None
    looking: bool  # the columns are chosen: the rows are tried

    @property
    def rows(self) -> Sequence[Row]:
        """The rows of the sheet that is chosen."""
        return self.sheets.get(self.form.sheet.data or "", ())

    def columns(self) -> Columns:
        """Return the columns; InputError at the field to be mended."""
        return self.form.columns(self.conditions)

    def tried(self) -> list[TriedRow]:
        """Add the rows to a session that the caller commits, or closes."""
        columns = self.columns()
        left_out = rows_left_out(self.form.left_out.data or "")
        rows = read_readings(self.rows, columns, left_out, self.card.zone)
        for row in rows[MOST_READINGS:]:
            said = f"A file gives {MOST_READINGS} readings at most: leave rows out."
            row.faults.append((None, said))
        return take_rows(
            write_session(),
            person_id=current_user.id,
            card_id=self.card.id,
            file=FileOf(
                name=self.file.name,
                digest=self.file.digest,
                instrument_id=self.instrument_id,
                conditions=self.given,
                reason=(self.form.reason.data or "").strip(),
            ),
            rows=rows[: MOST_READINGS + 1],
            now=now(),
        )


def _import(card_id: UUID, attachment_id: UUID) -> _Import:
    """Return what the page is about; the database waits for no file."""
    session = read_session()
    card = file_card(session, person_id=current_user.id, card_id=card_id)
    file = next((one for one in card.files if one.id == attachment_id), None)
    if file is None:
        raise NotFoundError("file", attachment_id)
    known = {str(key): key for key, _ in card.instruments}
    only = next(iter(known)) if len(known) == 1 else ""
    instrument_id = known.get(request.values.get("instrument", only))
    kept = (
        kept_columns(session, instrument_id, file.kind.name) if instrument_id else None
    )
    close()
    with store().open(file.digest) as held:
        sheets = read_any_table(held.read())
    looking = "value" in request.values
    first = next(iter(sheets))
    chosen = request.values.to_dict()
    if not looking:
        heads = headings(sheets[first], 1)
        chosen = as_chosen(kept.columns) if kept else likely(card, heads)
    named_sheet = chosen.get("sheet", first)
    chosen["sheet"] = named_sheet if named_sheet in sheets else first
    form = ColumnsForm(MultiDict(chosen))
    header = (form.header.data or "").strip()
    at = int(header) if header.isdecimal() else 0
    form.offer(list(sheets), headings(sheets[chosen["sheet"]], at))
    conditions = {
        ask["name"]: int(chosen[CONDITION + ask["name"]])
        for ask in card.asks
        if chosen.get(CONDITION + ask["name"], "").isdecimal()
    }
    return _Import(
        card=card,
        file=file,
        instrument_id=instrument_id,
        sheets=sheets,
        form=form,
        conditions=conditions,
        given={
            ask["name"]: typed
            for ask in card.asks
            if (typed := request.values.get(GIVEN + ask["name"], "").strip())
        },
        kept=kept,
        looking=looking,
    )


def headings(rows: Sequence[Row], header: int) -> list[str]:
    """Return the columns in words: their letter, and their heading."""
    width = max((len(cells) for _, cells in rows), default=0)
    heads = dict(rows).get(header, ())
    return [
        f"{letter(at)}: {heads[at][0].strip()}"
        if at < len(heads) and heads[at][0].strip()
        else letter(at)
        for at in range(width)
    ]


@bp.get("/cards/<uuid:card_id>/<uuid:attachment_id>")
def columns(card_id: UUID, attachment_id: UUID) -> ResponseReturnValue:
    """Ask for the columns; show what the rows would be once they are chosen."""
    return _page(_import(card_id, attachment_id))


@bp.post("/cards/<uuid:card_id>/<uuid:attachment_id>")
def record(card_id: UUID, attachment_id: UUID) -> ResponseReturnValue:
    """Record all rows, or none where one is wrong."""
    taking = _import(card_id, attachment_id)
    try:
        tried = taking.tried()
    except InputError:
        return _page(taking), 422
    if taking.instrument_id is None or any(one.status == "wrong" for one in tried):
        return _page(taking), 422
    keep_columns(
        db(),
        person_id=current_user.id,
        instrument_id=taking.instrument_id,
        kind=taking.file.kind.name,
        columns=taking.columns(),
        now=now(),
    )
    commit()
    new = sum(one.status == "stored" for one in tried)
    known = len(tried) - new
    said = f"{new} readings of {taking.file.name} are recorded."
    flash(said + (f" {known} were on record already." if known else ""))
    return redirect(url_for(".files", card_id=card_id), code=303)


def _page(taking: _Import) -> str:
    tried: list[TriedRow] = []
    if taking.looking:
        try:
            tried = taking.tried()
        except InputError as error:
            for one in error.faults:
                taking.form[one.field].errors = [one.message]
    close()  # nothing of what was tried stays
    header = (taking.form.header.data or "").strip()
    heads = headings(taking.rows, int(header) if header.isdecimal() else 0)
    wrong = sum(one.status == "wrong" for one in tried)
    return render_template(
        "readings_file/columns.html",
        taking=taking,
        card=taking.card,
        file=taking.file,
        form=taking.form,
        heads=heads,
        first=taking.rows[:FIRST_ROWS],
        tried=tried,
        wrong=wrong,
        chosen=request.values.items(),
        said=lambda one: " ".join(
            [named(one.read.faults, dict(enumerate(heads))), *one.faults]
        ).strip(),
    )
