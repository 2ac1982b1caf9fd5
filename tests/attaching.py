"""Attach a made-up text to a thing, as the technician unless said otherwise."""

import io
import tempfile
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

from models.files.folder_store import FolderStore
from models.files.store import FileStore
from models.services.keeping.attachments import attach, withdraw
from tests.scenario import TECHNICIAN, Cast, Work

TEXT = b"Rubbing on pole B, put right.\n"


def put(work: Work, store: FileStore, subject: str, key: UUID, **given: Any) -> UUID:
    """Attach TEXT, or *content*; return the attachment's id."""
    who: Cast = given.pop("by", TECHNICIAN)
    content: bytes = given.pop("content", TEXT)
    said: dict[str, Any] = {"name": "seen.txt", "note": " as found "} | given
    return attach(
        work.session,
        store,
        person_id=who.id,
        subject=subject,
        subject_id=key,
        source=io.BytesIO(content),
        now=work.tick(),
        new_id=uuid4,
        **said,
    )


def put_and_withdraw(work: Work, subject: str, key: UUID) -> UUID:
    """Attach TEXT in a store that is gone at once, and withdraw it."""
    with tempfile.TemporaryDirectory() as folder:
        made = put(work, FolderStore(Path(folder)), subject, key)
    withdraw(
        work.session,
        person_id=TECHNICIAN.id,
        attachment_id=made,
        reason="of another breaker",
        now=work.tick(),
        new_id=uuid4,
    )
    return made
