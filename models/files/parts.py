"""Files that arrive in parts, kept in a folder until they are whole."""

import json
import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from models.errors import StoreError

LONGEST_PART = 256 * 1024  # bytes of one part
KEPT_S = 30 * 24 * 3600.0  # what nobody has gone on with for so long is cleared


class PartsFolder:
    """Keeps what was said of a file as `<id>.json` and its bytes as `<id>.part`."""

    def __init__(self, folder: Path) -> None:
        """Use *folder*; it is made when the first file begins."""
        self.folder = folder

    def begin(self, file_id: UUID, said: Mapping[str, Any]) -> None:
        """Keep what is said of a file; its bytes begin anew where that is other."""
        with _said():
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            if self.said(file_id) == said:
                return
            self._place(file_id, "part").write_bytes(b"")
            words = self._place(file_id, f"json-{os.getpid()}")
            words.write_text(json.dumps(said, sort_keys=True), encoding="utf-8")
            words.replace(self._place(file_id, "json"))

    def said(self, file_id: UUID) -> dict[str, Any] | None:
        """Return what was said of a file that has begun; None where none has."""
        try:
            words = self._place(file_id, "json").read_text("utf-8")
        except FileNotFoundError:
            return None
        found: dict[str, Any] = json.loads(words)
        return found

    def received(self, file_id: UUID) -> int:
        """Return how many bytes are here."""
        try:
            return self._place(file_id, "part").stat().st_size
        except FileNotFoundError:
            return 0

    def add(self, file_id: UUID, start: int, part: bytes) -> int:
        """Put a part where it belongs; return how many bytes are here then.

        A part that was there before changes nothing, and one behind a gap is not kept:
        the answer says from where to go on. Two that bring one part at once write the
        same bytes to the same place.
        """
        with _said(), self._place(file_id, "part").open("r+b") as file:
            here = file.seek(0, os.SEEK_END)
            if start <= here < start + len(part):
                file.write(part[here - start :])
                file.flush()
                os.fsync(file.fileno())
            return file.tell()

    def path(self, file_id: UUID) -> Path:
        """Return where the bytes are."""
        return self._place(file_id, "part")

    def drop(self, file_id: UUID) -> None:
        """Forget a file: it is whole and in the store, or is refused."""
        for kind in ("json", "part"):
            self._place(file_id, kind).unlink(missing_ok=True)

    def clear_old(self, now: datetime) -> None:
        """Forget what nobody has gone on with for 30 days; the tablet has it still."""
        oldest = now.timestamp() - KEPT_S
        for place in self.folder.glob("*.*"):
            if place.stat().st_mtime < oldest:
                place.unlink(missing_ok=True)

    def _place(self, file_id: UUID, kind: str) -> Path:
        return self.folder / f"{file_id}.{kind}"


@contextmanager
def _said() -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise StoreError(
            f"The server cannot keep the photograph: {error.strerror}. It stays on the "
            "tablet and is sent again."
        ) from error
