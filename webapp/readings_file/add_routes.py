"""The files of a card, and sending one."""

from uuid import UUID

from flask import redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.services.readings_file.file_card import FileCard, file_card
from webapp.db import close, read_session
from webapp.readings_file.forms import FileForm
from webapp.readings_file.routes import bp
from webapp.readings_file.sending import keep_sent, place_faults

NOTE = "Table of a test set: readings of this card come from it."


def _card(card_id: UUID) -> FileCard:
    return file_card(read_session(), person_id=current_user.id, card_id=card_id)


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
    card = _card(card_id)
    close()
    try:
        attachment_id = keep_sent(card, "card", NOTE)
    except InputError as error:
        place_faults(form, error)
        return _page(card_id, form), 422
    way = url_for(".columns", card_id=card_id, attachment_id=attachment_id)
    return redirect(way, code=303)


def _page(card_id: UUID, form: FileForm) -> str:
    return render_template("readings_file/files.html", card=_card(card_id), form=form)
