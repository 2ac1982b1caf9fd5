"""A folder as the store of files."""

import os
import re
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from models.errors import StoreError
from models.files.store import digest_of, pieces

NAME = re.compile(r"[0-9a-f]{64}")


class FolderStore:
    """Keeps each file as `ab/abcd...`, readable by the program's account alone."""

    def __init__(self, folder: Path) -> None:
        """Use *folder*; it is made when the first file is kept."""
        self.folder = folder

    def put(self, source: BinaryIO, digest: str) -> None:
        """Write beside its place, make sure that it is on the disk, then link it there.

        A program that stops in between leaves a file in `tmp` and no half file.
        """
        place = self._place(digest)
        if place.exists():
            return
        with _said(), self._written(source) as path:
            with path.open("rb") as again:
                if digest_of(again) != digest:
                    raise StoreError("What was written is not what was sent.")
            path.chmod(0o400)
            place.parent.mkdir(mode=0o700, exist_ok=True)
            with suppress(FileExistsError):  # never written over
                os.link(path, place)
            _settle(place.parent)
            _settle(self.folder)

    def open(self, digest: str) -> BinaryIO:
        """Return the file, open for reading."""
        try:
            return self._place(digest).open("rb")
        except FileNotFoundError as error:
            raise missing(digest) from error
        except OSError as error:
            raise StoreError(f"The file {digest} cannot be read: {error}") from error

    def check(self, digest: str) -> str:
        """Read the whole file and compare."""
        if not self._place(digest).exists():
            return "missing"
        with self.open(digest) as file:
            return "" if digest_of(file) == digest else "changed"

    def digests(self) -> Iterator[str]:
        """Yield the name of every file of the folder."""
        for place in sorted(self.folder.glob("??/*")):
            if NAME.fullmatch(place.name):
                yield place.name

    def _place(self, digest: str) -> Path:
        if NAME.fullmatch(digest) is None:
            raise StoreError(f"'{digest}' is no SHA-256.")
        return self.folder / digest[:2] / digest

    @contextmanager
    def _written(self, source: BinaryIO) -> Iterator[Path]:
        """Give the path of a temporary file with the content, gone afterwards."""
        room = self.folder / "tmp"
        room.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=room)
        try:
            with os.fdopen(handle, "wb") as file:
                for piece in pieces(source):
                    file.write(piece)
                file.flush()
                os.fsync(file.fileno())
            yield Path(name)
        finally:
            Path(name).unlink()


def missing(digest: str) -> StoreError:
    """Return the error for a file that is not there."""
    return StoreError(
        f"The file {digest} is not in the store of files any more: tell whoever runs "
        "this installation."
    )


@contextmanager
def _said() -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise StoreError(f"The file cannot be kept: {error.strerror}.") from error


def _settle(folder: Path) -> None:
    """Make sure that the folder's own list is on the disk, where that can be asked."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
