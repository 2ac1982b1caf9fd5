"""Sending a table: it is read before it is kept, and kept once."""

from io import BytesIO
from uuid import UUID

from flask import flash, request
from flask_login import current_user

from models.analysis.tables import as_utf8, read_any_table
from models.errors import Fault, InputError
from models.files.receive import receive
from models.services.keeping import attachments
from models.services.readings_file.file_card import FileCard
from models.services.readings_file.file_round import FileRound
from webapp.clock import new_id, now
from webapp.db import commit, write_session
from webapp.file_store import limits, store
from webapp.readings_file.forms import FileForm


def keep_sent(of: FileCard | FileRound, subject: str, note: str) -> UUID:
    """Attach the table that was sent; one that is there already is opened.

    Raises InputError for what is no table, and what attaching raises.
    """
    sent = request.files.get("file")
    if sent is None or not sent.filename:
        raise InputError(Fault(field="file", message="Choose the file."))
    data = sent.read()
    read_any_table(data)
    received = receive(
        store(), source=BytesIO(as_utf8(data)), name=sent.filename, limits=limits()
    )
    for one in of.files:
        if one.digest == received.digest:
            flash(f"{one.name} is attached to this {subject} already: it is opened.")
            return one.id
    attachment_id = attachments.add_attachment(
        write_session(),
        person_id=current_user.id,
        subject=subject,
        subject_id=of.id,
        received=received,
        note=note,
        limits=limits(),
        now=now(),
        new_id=new_id,
    )
    commit()
    return attachment_id


def place_faults(form: FileForm, error: InputError) -> None:
    """Put what is wrong with a file at its field."""
    form.file.errors = [
        one.message if one.field in ("file", "the file") else str(one)
        for one in error.faults
    ]
