"""Add a file to a thing, send it, withdraw it."""

from collections.abc import Iterator
from typing import BinaryIO, cast
from urllib.parse import quote, urlsplit
from uuid import UUID

from flask import Blueprint, Response, flash, redirect, render_template, request
from flask.typing import ResponseReturnValue
from flask_login import current_user, login_required

from models.errors import InputError
from models.files.kinds import refused
from models.files.receive import Received, receive
from models.files.store import pieces
from models.services.keeping import attachments
from models.services.people.access import DOING
from webapp.clock import new_id, now
from webapp.db import close, commit, db, read_session, write_session
from webapp.file_store import limits, store
from webapp.files.forms import AttachForm, WithdrawForm
from webapp.form_faults import place_faults
from webapp.way_back import way_back

bp = Blueprint("files", __name__, url_prefix="/files", template_folder="templates")

# Whatever a browser makes of a file that it shows by itself, it runs nothing of it.
POLICY = "sandbox; default-src 'none'"


@bp.before_request
@login_required
def signed_in() -> None:
    """Let nobody in who is not signed in."""


@bp.app_template_global()
def attached_to(subject: str, subject_id: UUID | str) -> attachments.Attached:
    """Return what is attached to a thing, for the macro of the list."""
    return attachments.attached(
        db(),
        person_id=current_user.id,
        subject=subject,
        subject_id=UUID(str(subject_id)),
    )


@bp.app_template_filter()
def file_size(size: int) -> str:
    """Return a size in bytes as people read it."""
    for unit, least in (("MB", 1_000_000), ("kB", 1_000)):
        if size >= least:
            return f"{size / least:.3g} {unit}"
    return f"{size} bytes"


@bp.app_template_global()
def may_export() -> bool:
    """Return whether the person sees records, and so may take them along."""
    return not current_user.roles.isdisjoint(DOING["see record"])


@bp.app_template_global()
def largest_file() -> int:
    """Return how large a file may be, in bytes."""
    return limits().bytes


@bp.app_template_global()
def here_path() -> str:
    """Return the address of the page that is shown, for a form that leads back."""
    if request.method == "GET":
        return request.full_path.removesuffix("?")
    return way_back(urlsplit(request.referrer or "").path)


@bp.post("/<subject>/<uuid:subject_id>")
def add(subject: str, subject_id: UUID) -> ResponseReturnValue:
    """Attach the file; go back to the page that it was sent from."""
    form = AttachForm()
    note = (form.note.data or "").strip()
    try:
        received = _received(form, subject, subject_id, note)
        attachments.add_attachment(
            write_session(),
            person_id=current_user.id,
            subject=subject,
            subject_id=subject_id,
            received=received,
            note=note,
            limits=limits(),
            now=now(),
            new_id=new_id,
        )
    except InputError as error:
        elsewhere = place_faults(form, error)
        return render_template(
            "files/add.html",
            form=form,
            elsewhere=elsewhere,
            subject=subject,
            subject_id=subject_id,
            back=_back(),
        ), 422
    commit()
    flash(f"{received.name} is attached.")
    return redirect(f"{_back()}#files-{subject_id}", code=303)


def _received(form: AttachForm, subject: str, subject_id: UUID, note: str) -> Received:
    """Take the file in while no database waits for it."""
    attachments.require_room(
        read_session(),
        person_id=current_user.id,
        subject=subject,
        subject_id=subject_id,
        note=note,
        limits=limits(),
    )
    close()
    sent = request.files.get("file")
    if sent is None or not sent.filename:
        raise refused("Choose a file.")
    source = cast("BinaryIO", sent.stream)
    return receive(store(), source=source, name=sent.filename, limits=limits())


@bp.get("/<uuid:attachment_id>")
def show(attachment_id: UUID) -> ResponseReturnValue:
    """Send a file as what it was found to be."""
    found = attachments.attachment(
        db(), person_id=current_user.id, attachment_id=attachment_id
    )
    close()
    file = store().open(found.digest)
    response = Response(_whole(file), content_type=found.kind.media_type)
    response.call_on_close(file.close)
    response.content_length = found.size
    how = "inline" if found.kind.is_picture else "attachment"
    response.headers["Content-Disposition"] = (
        f"{how}; filename*=UTF-8''{quote(found.name, safe='')}"
    )
    response.headers["Content-Security-Policy"] = POLICY
    response.headers["Cross-Origin-Resource-Policy"] = "same-origin"
    response.headers["Cache-Control"] = "private, max-age=3600"
    return response


def _whole(file: BinaryIO) -> Iterator[bytes]:
    with file:
        yield from pieces(file)


@bp.get("/<uuid:attachment_id>/withdraw")
def ask_withdraw(attachment_id: UUID) -> ResponseReturnValue:
    """Ask why the file does not count."""
    return _withdraw_page(attachment_id, WithdrawForm())


@bp.post("/<uuid:attachment_id>/withdraw")
def withdraw(attachment_id: UUID) -> ResponseReturnValue:
    """Withdraw the file."""
    form = WithdrawForm()
    try:
        gone = attachments.withdraw(
            db(),
            person_id=current_user.id,
            attachment_id=attachment_id,
            reason=form.reason.data or "",
            now=now(),
            new_id=new_id,
        )
    except InputError as error:
        place_faults(form, error)
        return _withdraw_page(attachment_id, form), 422
    commit()
    flash(f"{gone.name} is withdrawn; it stays to be read.")
    return redirect(f"{_back()}#files-{gone.subject_id}", code=303)


def _withdraw_page(attachment_id: UUID, form: WithdrawForm) -> str:
    found = attachments.attachment(
        db(), person_id=current_user.id, attachment_id=attachment_id
    )
    return render_template("files/withdraw.html", file=found, form=form, back=_back())


def _back() -> str:
    """Return the page that the form stood on, or the first page."""
    return way_back(request.values.get("back", "")).partition("#")[0] or "/"
