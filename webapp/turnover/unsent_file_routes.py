"""Take in a file that a tablet carried off: look at it, then store it."""

import base64
import binascii
from typing import Any

from flask import current_app, render_template, request
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import Fault, InputError
from models.services.tablets.take_in import TAKEN, take_in
from models.services.tablets.unsent_file import UnsentFile, open_unsent
from webapp.clock import now
from webapp.db import commit, db
from webapp.turnover.routes import bp

NOT_WHOLE = "The file was not sent whole: choose it again."


@bp.get("/tablets/file")
def unsent_file() -> ResponseReturnValue:
    """Ask for the file."""
    return _page()


@bp.post("/tablets/file")
def look_at_unsent_file() -> ResponseReturnValue:
    """Show what a file holds; nothing is stored."""
    sent = request.files.get("file")
    data = sent.read() if sent else b""
    try:
        file = open_unsent(db(), person_id=current_user.id, data=data)
    except InputError as error:
        return _page(faults=_said(error)), 422
    return _page(file=file, held=base64.b64encode(data).decode())


@bp.post("/tablets/file/take")
def take_unsent_file() -> ResponseReturnValue:
    """Store the entries of the file that was shown."""
    request.max_form_memory_size = current_app.config["MAX_CONTENT_LENGTH"]
    try:
        data = _held()
        answers = take_in(db(), person_id=current_user.id, data=data, now=now())
    except InputError as error:
        return _page(faults=_said(error)), 422
    commit()
    return _page(answers=answers)


def _held() -> bytes:
    try:
        return base64.b64decode(request.form.get("held", ""), validate=True)
    except binascii.Error as error:
        raise InputError(Fault(field="file", message=NOT_WHOLE)) from error


def _said(error: InputError) -> list[str]:
    return [fault.message for fault in error.faults]


def _page(
    *,
    file: UnsentFile | None = None,
    held: str = "",
    answers: list[dict[str, Any]] | None = None,
    faults: list[str] | None = None,
) -> str:
    answers = answers or []
    return render_template(
        "turnover/unsent_file.html",
        file=file,
        held=held,
        taken=sum(one["status"] in TAKEN for one in answers),
        known=sum(one["status"] == "known" for one in answers),
        left=[one for one in answers if one["status"] not in TAKEN],
        answers=answers,
        faults=faults or [],
    )
