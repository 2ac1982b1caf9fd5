"""Take in a file that a tablet carried off: look at it, then store it."""

from uuid import UUID, uuid4

from flask import render_template, request
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import Fault, InputError
from models.services.tablets.bring_photos import receive_pictures
from models.services.tablets.take_in import TAKEN, TakenIn, take_in
from models.services.tablets.unsent_file import UnsentFile, open_unsent, require_bringer
from webapp.clock import now
from webapp.db import close, commit, read_session, write_session
from webapp.file_store import carried, limits, store
from webapp.turnover.routes import bp

GONE = (
    "The file is not on the server any more: choose it again. What was taken in from "
    "it before is known and does no harm."
)


@bp.get("/tablets/file")
def unsent_file() -> ResponseReturnValue:
    """Ask for the file."""
    return _page()


@bp.post("/tablets/file")
def look_at_unsent_file() -> ResponseReturnValue:
    """Show what a file holds; nothing is stored, and it waits here to be taken in."""
    require_bringer(read_session(), current_user.id)
    sent = request.files.get("file")
    data = sent.read() if sent else b""
    try:
        file = _opened(data)
    except InputError as error:
        return _page(faults=_said(error)), 422
    return _page(file=file, held=str(_hold(data)))


@bp.post("/tablets/file/take")
def take_unsent_file() -> ResponseReturnValue:
    """Store what the file that was shown holds: its pictures first, then the record."""
    require_bringer(read_session(), current_user.id)
    held = _held()
    try:
        data = _data(held)
        file = _opened(data)
        pictures = receive_pictures(file, store(), carried(), limits())
        close()
        taken = take_in(
            write_session(),
            person_id=current_user.id,
            data=data,
            pictures=pictures,
            limits=limits(),
            now=now(),
        )
    except InputError as error:
        return _page(faults=_said(error)), 422
    commit()
    if held:
        carried().drop(held)
    return _page(taken=taken)


def _opened(data: bytes) -> UnsentFile:
    return open_unsent(
        read_session(),
        person_id=current_user.id,
        data=data,
        limits=limits(),
        now=now(),
    )


def _hold(data: bytes) -> UUID:
    """Keep the file as it came until the same person has it taken in."""
    held = uuid4()
    carried().clear_old(now())
    carried().begin(held, {"brought_by": str(current_user.id)})
    carried().add(held, 0, data)
    return held


def _held() -> UUID | None:
    try:
        return UUID(request.form.get("held", ""))
    except ValueError:
        return None


def _data(held: UUID | None) -> bytes:
    said = carried().said(held) if held else None
    if held is None or said != {"brought_by": str(current_user.id)}:
        raise InputError(Fault(field="file", message=GONE))
    return carried().path(held).read_bytes()


def _said(error: InputError) -> list[str]:
    return [fault.message for fault in error.faults]


def _page(
    *,
    file: UnsentFile | None = None,
    held: str = "",
    taken: TakenIn | None = None,
    faults: list[str] | None = None,
) -> str:
    answers = taken.entries if taken else []
    photos = taken.photos if taken else []
    return render_template(
        "turnover/unsent_file.html",
        file=file,
        held=held,
        is_done=taken is not None,
        taken=sum(one["status"] in TAKEN for one in answers),
        known=sum(one["status"] == "known" for one in answers),
        left=[one for one in answers if one["status"] not in TAKEN],
        answers=answers,
        photos=photos,
        photos_taken=sum(one.status in TAKEN for one in photos),
        photos_known=sum(one.status == "known" for one in photos),
        photos_left=[one for one in photos if one.status not in TAKEN],
        faults=faults or [],
    )
