"""The records of a card, and sending one: it is read whole before it is kept."""

from io import BytesIO
from uuid import UUID

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import InputError
from models.files.receive import receive
from models.services.keeping import attachments
from models.services.waveforms.timed_card import TABLES, timed_card
from models.waveform.parts import WANTED, Sent, one_file
from models.waveform.read import read_waveform
from models.waveform.refusal import refused
from webapp.clock import new_id, now
from webapp.db import close, commit, read_session, write_session
from webapp.file_store import limits, store
from webapp.waveforms.curve_routes import read_curves
from webapp.waveforms.forms import FilesForm
from webapp.waveforms.routes import bp

NOTE = "Waveform record: times of this card are measured in it."


@bp.get("/cards/<uuid:card_id>")
def records(card_id: UUID) -> ResponseReturnValue:
    """Show the records of the card, and ask for one."""
    return _page(card_id, FilesForm())


@bp.post("/cards/<uuid:card_id>")
def add(card_id: UUID) -> ResponseReturnValue:
    """Keep a record with the card and go on to measure in it.

    One that is there already is opened: sending it twice does no harm.
    """
    form = FilesForm()
    try:
        attachment_id, page = _kept(card_id)
    except InputError as error:
        form.files.errors = [one.message for one in error.faults]
        return _page(card_id, form), 422
    return redirect(
        url_for(page, card_id=card_id, attachment_id=attachment_id), code=303
    )


def _kept(card_id: UUID) -> tuple[UUID, str]:
    """Keep what was sent; return its identifier, and the page that reads it."""
    card = timed_card(read_session(), person_id=current_user.id, card_id=card_id)
    close()
    sent = [
        Sent(name=file.filename, data=file.read())
        for file in request.files.getlist("files")
        if file.filename
    ]
    if not sent:
        raise refused(WANTED)
    page = ".curve" if card.curve else ".measure"
    whole = _whole(sent, tables=card.curve is not None)
    received = receive(
        store(), source=BytesIO(whole.data), name=whole.name, limits=limits()
    )
    for one in card.files:
        if one.digest == received.digest:
            flash(f"{one.name} is attached to this card already: it is opened.")
            return one.id, page
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
    return attachment_id, page


def _whole(sent: list[Sent], *, tables: bool) -> Sent:
    """Return the one file that is kept, read once; InputError where it is none."""
    if tables and len(sent) == 1 and sent[0].ending in TABLES:
        read_curves(sent[0].data, sent[0].ending)
        return sent[0]
    whole = one_file(sent)
    read_waveform(whole.data)
    return whole


def _page(card_id: UUID, form: FilesForm) -> str:
    card = timed_card(read_session(), person_id=current_user.id, card_id=card_id)
    return render_template("waveforms/records.html", card=card, form=form)
