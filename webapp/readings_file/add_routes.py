"""The files of a card, and sending one: it is read before it is kept."""

from io import BytesIO
from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.analysis.tables import as_utf8, read_any_table
from models.errors import Fault, InputError
from models.files.receive import receive
from models.services.keeping import attachments
from models.services.readings_file.file_card import file_card
from webapp.clock import new_id, now
from webapp.db import close, commit, read_session, write_session
from webapp.file_store import limits, store
from webapp.readings_file.forms import FileForm
from webapp.readings_file.routes import bp

NOTE = "Table of a test set: readings of this card come from it."


@bp.get("/cards/<uuid:card_id>")
def files(card_id: UUID) -> ResponseReturnValue:
    """Show the tables of the card, and ask for one."""
    return _page(card_id, FileForm())


@bp.post("/cards/<uuid:card_id>")
def add(card_id: UUID) -> ResponseReturnValue:
    """Keep a table with the card and go on to its columns.

    One that is there already is opened: sending it twice does no harm.
    """
    form = FileForm()
    try:
        attachment_id = _kept(card_id)
    except InputError as error:
        form.file.errors = [
            one.message
            if one.field in ("file", "the file")
            else f"{one.field}: {one.message}"
            for one in error.faults
        ]
        return _page(card_id, form), 422
    way = url_for(".columns", card_id=card_id, attachment_id=attachment_id)
    return redirect(way, code=303)


def _kept(card_id: UUID) -> UUID:
    card = file_card(read_session(), person_id=current_user.id, card_id=card_id)
    close()
    sent = request.files.get("file")
    if sent is None or not sent.filename:
        raise InputError(Fault(field="file", message="Choose the file."))
    data = sent.read()
    read_any_table(data)
    received = receive(
        store(), source=BytesIO(as_utf8(data)), name=sent.filename, limits=limits()
    )
    for one in card.files:
        if one.digest == received.digest:
            flash(f"{one.name} is attached to this card already: it is opened.")
            return one.id
    attachment_id = attachments.add_attachment(
        write_session(),
        person_id=current_user.id,
        subject="card",
        subject_id=card_id,
        received=received,
        note=NOTE,
        limits=limits(),
        now=now(),
        new_id=new_id,
    )
    commit()
    return attachment_id


def _page(card_id: UUID, form: FileForm) -> str:
    card = file_card(read_session(), person_id=current_user.id, card_id=card_id)
    return render_template("readings_file/files.html", card=card, form=form)
