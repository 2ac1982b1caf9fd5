"""Check the store of files against the record: all there, unchanged, nothing else."""

from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.files.store import FileStore
from models.schema import Attachment, StoredFile


def check_files(session: Session, store: FileStore) -> Iterator[str]:
    """Yield a fault for each file that is missing, changed or nobody's.

    Reads every file whole. StoreError where the store does not answer.
    """
    known = set()
    for digest in session.scalars(
        select(StoredFile.digest).order_by(StoredFile.digest)
    ):
        known.add(digest)
        if how := store.check(digest):
            for name in _names(session, digest):
                yield f"file {name} is {how} in the store ({digest})"
    for digest in store.digests():
        if digest not in known:
            yield f"file {digest} of the store belongs to nothing on record"


def _names(session: Session, digest: str) -> Iterator[str]:
    """Yield what the file is called wherever it is attached."""
    rows = session.scalars(
        select(Attachment).where(Attachment.digest == digest).order_by(Attachment.id)
    )
    for row in rows:
        yield f"'{row.name}' of {row.subject} {row.subject_id}"
