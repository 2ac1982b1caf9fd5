"""The photographs of a file that a tablet carried off: each is opened by itself.

One that does not open, or is not what was said of it, is named and left in the file;
the entries and the other photographs are taken in all the same.
"""

import json
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import ConflictError, ForbiddenError, InputError, NotFoundError
from models.files.receive import Limits
from models.services.field.photographs import is_known, require_takeable
from models.services.field.read_photograph import Photograph, read_photograph
from models.signing.sealed_here import open_sealed, open_words

PARTS = ("meta", "image")  # of a photograph in the file
REFUSALS = (ConflictError, ForbiddenError, InputError, NotFoundError)
NOT_OPENED = "It does not open: the file was changed, or it is of another tablet."


@dataclass(frozen=True, slots=True, kw_only=True)
class UnsentPhoto:
    """A photograph of the file; *why* says what stands against it, and may be empty.

    *photograph* is None where it cannot be read.
    """

    name: str
    size: int  # bytes
    image: bytes
    photograph: Photograph | None
    why: str = ""
    known: bool = False  # it is on record already

    @property
    def wanted(self) -> bool:
        """Whether it is to be stored."""
        return not self.why and not self.known


def read_unsent_photo(
    said: Any, *, author: str, key: bytes | None, own: bool, now: datetime
) -> UnsentPhoto:
    """Open one photograph, and read what the tablet said of it; never raises.

    *own*: the person who brings the file is its author, and may bring what is not
    sealed.
    """
    said = said if isinstance(said, dict) else {}
    name = str(said.get("id"))
    if not own and isinstance(said.get("meta"), str):
        return _faulty(
            name,
            "It is not sealed, so anybody may have made it: only "
            f"{author} may bring it.",
        )
    meta, image = (_opened(said.get(part), f"{name}/{part}", key) for part in PARTS)
    if meta is None or not image:
        return _faulty(name, NOT_OPENED)
    try:
        told = json.loads(meta)
        raw = {**told, "photo": name, "card_id": told["card"], "size": len(image)}
        photograph = read_photograph(raw, now=now)
    except InputError as error:
        return _faulty(name, words_of(error), len(image))
    except (ValueError, KeyError, TypeError, RecursionError):
        return _faulty(name, "What is said of it cannot be read.", len(image))
    return UnsentPhoto(
        name=photograph.name, size=len(image), image=image, photograph=photograph
    )


def _opened(part: Any, bound_to: str, key: bytes | None) -> bytes | None:
    """Return what was sealed, or lay there bare as base64url; None if it is broken."""
    if isinstance(part, str):
        return open_words(part)
    return open_sealed(key or b"", part, bound_to) if isinstance(part, dict) else None


def _faulty(name: str, why: str, size: int = 0) -> UnsentPhoto:
    return UnsentPhoto(name=name, size=size, image=b"", photograph=None, why=why)


def compared(
    session: Session,
    photo: UnsentPhoto,
    *,
    bringer_id: UUID,
    author_id: UUID,
    round_id: UUID,
    limits: Limits,
) -> UnsentPhoto:
    """Return the photograph with what the record says of it: known, or refused why."""
    if photo.photograph is None:
        return photo
    try:
        if is_known(session, photo.photograph, author_id):
            return replace(photo, known=True)
        require_takeable(
            session,
            person_id=bringer_id,
            round_id=round_id,
            photograph=photo.photograph,
            limits=limits,
        )
    except REFUSALS as error:
        return replace(photo, why=words_of(error))
    return photo


def words_of(error: Exception) -> str:
    """Return why a photograph is refused, in words."""
    if isinstance(error, InputError):
        return " ".join(fault.message for fault in error.faults)
    return f"There is {error}." if isinstance(error, NotFoundError) else str(error)
