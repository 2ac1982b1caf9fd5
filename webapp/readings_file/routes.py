"""Choose the columns of a card's file, look at what its rows would be, record them."""

from collections.abc import Callable
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.errors import InputError
from models.services.readings_file.file_card import FileCard, file_card
from models.services.readings_file.kept_columns import keep_columns, kept_columns
from models.services.readings_file.take_rows import take_rows
from models.services.readings_file.taking import TriedRow
from webapp.clock import now
from webapp.db import close, commit, db, read_session, write_session
from webapp.readings_file.forms import ColumnsForm
from webapp.readings_file.importing import (
    Import,
    chosen_instrument,
    import_of,
    one_file,
)

bp = Blueprint(
    "readings_file", __name__, url_prefix="/readings-file", template_folder="templates"
)
MOST_READINGS = 200  # of one file on one card, so that each is looked at


@bp.before_request
@login_required
def signed_in() -> None:
    """Let nobody in who is not signed in."""


def _import(card_id: UUID, attachment_id: UUID) -> Import:
    session = read_session()
    card = file_card(session, person_id=current_user.id, card_id=card_id)
    file = one_file(card, attachment_id)
    instrument = chosen_instrument(card)
    kept = kept_columns(session, instrument, file.kind.name) if instrument else None
    close()
    return import_of(card, file, kept, ColumnsForm)


def _tried(taking: Import) -> list[TriedRow]:
    """Add the rows to a session that the caller commits, or closes."""
    return take_rows(
        write_session(),
        person_id=current_user.id,
        card_id=taking.of.id,
        file=taking.file_of(),
        rows=taking.read(MOST_READINGS),
        now=now(),
    )


@bp.get("/cards/<uuid:card_id>/<uuid:attachment_id>")
def columns(card_id: UUID, attachment_id: UUID) -> ResponseReturnValue:
    """Ask for the columns; show what the rows would be once they are chosen."""
    return _page(_import(card_id, attachment_id))


@bp.post("/cards/<uuid:card_id>/<uuid:attachment_id>")
def record(card_id: UUID, attachment_id: UUID) -> ResponseReturnValue:
    """Record all rows, or none where one is wrong."""
    taking = _import(card_id, attachment_id)
    if not record_all(taking, _tried, taking.file.kind.name):
        return _page(taking), 422
    return redirect(url_for(".files", card_id=card_id), code=303)


def record_all(
    taking: Import, take: Callable[[Import], list[TriedRow]], kind: str
) -> bool:
    """Record all rows and the columns chosen for *kind*; return False, and nothing is.

    *take* adds the rows to the session.
    """
    try:
        tried = take(taking)
    except InputError:
        return False
    if taking.instrument_id is None or any(one.status == "wrong" for one in tried):
        return False
    keep_columns(
        db(),
        person_id=current_user.id,
        instrument_id=taking.instrument_id,
        kind=kind,
        columns=taking.columns(),
        now=now(),
    )
    commit()
    say_recorded(taking, tried)
    return True


def say_recorded(taking: Import, tried: list[TriedRow]) -> None:
    """Flash what was recorded."""
    new = sum(one.status == "stored" for one in tried)
    known = len(tried) - new
    said = f"{new} readings of {taking.file.name} are recorded."
    flash(said + (f" {known} were on record already." if known else ""))


def _page(taking: Import) -> str:
    tried: list[TriedRow] = []
    if taking.looking:
        try:
            tried = _tried(taking)
        except InputError as error:
            for one in error.faults:
                taking.form[one.field].errors = [one.message]
    close()  # nothing of what was tried stays
    card = taking.of
    assert isinstance(card, FileCard)
    return render_template(
        "readings_file/columns.html",
        taking=taking,
        card=card,
        tried=tried,
        wrong=sum(one.status == "wrong" for one in tried),
        chosen=request.values.items(),
    )
