"""Store the photographs of a file that a tablet carried off, as their author's."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import InputError
from models.files.parts import PartsFolder
from models.files.receive import Limits, Received
from models.files.store import FileStore
from models.services.field.photographs import attach_photograph, receive_whole
from models.services.field.read_photograph import Photograph
from models.services.tablets.unsent_file import UnsentFile
from models.services.tablets.unsent_photos import REFUSALS, UnsentPhoto, words_of

NOT_LOOKED_AT = "It was not looked at yet: choose the file again."

Pictures = Mapping[UUID, Received | str]  # by photograph: in the store, or why not


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoAnswer:
    """What became of a photograph; *why* of one that was refused."""

    name: str
    status: Literal["stored", "known", "refused"]
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """Who brings photographs of whom; *said*: what the log says besides."""

    bringer_id: UUID
    author_id: UUID
    said: Mapping[str, Any]
    limits: Limits
    now: datetime


def receive_pictures(
    file: UnsentFile, store: FileStore, parts: PartsFolder, limits: Limits
) -> Pictures:
    """Keep the file's pictures in the store, before anything is on record.

    Asks no database, so that nobody waits for a picture's pixels. What is on record
    already, or is refused as it is, is left out.
    """
    found: dict[UUID, Received | str] = {}
    for photo in (one for round_ in file.rounds for one in round_.photos):
        if photo.photograph is not None and photo.wanted:
            at = photo.photograph.id
            found[at] = _received(photo.photograph, photo.image, store, parts, limits)
    return found


def _received(
    photograph: Photograph,
    image: bytes,
    store: FileStore,
    parts: PartsFolder,
    limits: Limits,
) -> Received | str:
    try:
        parts.begin(photograph.id, {"carried": True})
        parts.add(photograph.id, 0, image)
        return receive_whole(parts, store, photograph, limits)
    except InputError as error:
        return words_of(error)
    finally:
        parts.drop(photograph.id)


def attach_brought(
    session: Session,
    photo: UnsentPhoto,
    pictures: Pictures,
    *,
    round_id: UUID,
    brought: Brought,
) -> PhotoAnswer:
    """Put a photograph on record, whole or not at all; say what became of it."""
    if photo.known:
        return PhotoAnswer(name=photo.name, status="known")
    if photo.photograph is None or photo.why:
        return PhotoAnswer(name=photo.name, status="refused", why=photo.why)
    received = pictures.get(photo.photograph.id, NOT_LOOKED_AT)
    if isinstance(received, str):
        return PhotoAnswer(name=photo.name, status="refused", why=received)
    try:
        with session.begin_nested():
            attach_photograph(
                session,
                person_id=brought.bringer_id,
                round_id=round_id,
                photograph=photo.photograph,
                received=received,
                limits=brought.limits,
                now=brought.now,
                author_id=brought.author_id,
                said=brought.said,
            )
    except REFUSALS as error:
        return PhotoAnswer(name=photo.name, status="refused", why=words_of(error))
    return PhotoAnswer(name=photo.name, status="stored")
