"""Take in a file that somebody sends: look at it, write pictures anew, keep it."""

import hashlib
import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from models.files.kinds import KINDS, kind_of, refused
from models.files.names import clean_name
from models.files.pictures import write_picture
from models.files.plain_jpeg import plain_jpeg
from models.files.store import FileStore, digest_of, pieces

PICTURES = ("jpeg", "png", "webp")
MB = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What an installation takes: *bytes* a file, *each* files a thing."""

    bytes: int
    each: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Received:
    """A file that is in the store.

    *sent_digest* is of what was sent; a picture is written anew, so *digest*, of
    what is kept, differs there.
    """

    name: str
    kind: str
    digest: str
    size: int  # bytes
    sent_digest: str


def receive(
    store: FileStore,
    *,
    source: BinaryIO,
    name: str,
    limits: Limits,
    original: bool = False,
) -> Received:
    """Keep what *source* holds and say what it is; InputError for what is refused.

    *original*: a JPEG is kept in its own pixels, without what the camera noted; that
    it is a picture is proved by writing it anew all the same. Asks no database: what
    follows it in the record is another step, and a file that none follows is found by
    `check`.
    """
    with _room() as room:
        sent = room / "sent"
        sent_digest = _copy(source, sent, limits.bytes)
        kept, kind = sent, kind_of(sent)
        if kind in PICTURES:
            kept = room / "picture"
            kind = write_picture(sent, kept)
            if original and kind_of(sent) == "jpeg":
                kept.write_bytes(plain_jpeg(sent.read_bytes()))
        with kept.open("rb") as file:
            digest = digest_of(file)
            file.seek(0)
            store.put(file, digest)
        return Received(
            name=clean_name(name, KINDS[kind].endings),
            kind=kind,
            digest=digest,
            size=kept.stat().st_size,
            sent_digest=sent_digest,
        )


def too_large(limits: Limits) -> str:
    """Say that a file is larger than is taken."""
    return (
        f"The file is larger than {limits.bytes / MB:g} MB, the most that this "
        "installation keeps. Send a smaller one, or ask whoever runs it to raise the "
        "limit (WITNESSMARK_FILE_MB)."
    )


def _copy(source: BinaryIO, target: Path, most: int) -> str:
    digest, size = hashlib.sha256(), 0
    with target.open("xb") as file:
        for piece in pieces(source):
            size += len(piece)
            if size > most:
                raise refused(too_large(Limits(bytes=most, each=0)))
            digest.update(piece)
            file.write(piece)
    return digest.hexdigest()


@contextmanager
def _room() -> Iterator[Path]:
    with tempfile.TemporaryDirectory(prefix="witnessmark-") as name:
        os.chmod(name, 0o700)
        yield Path(name)
