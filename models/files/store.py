"""What a store of files does: content under its SHA-256, written once."""

import hashlib
from collections.abc import Iterator
from typing import BinaryIO, Protocol

PIECE = 1 << 20  # bytes that are read at once


class FileStore(Protocol):
    """Keeps files under the SHA-256 of their content, as 64 hexadecimal digits.

    Every method raises StoreError where the store cannot be reached or written.
    """

    def put(self, source: BinaryIO, digest: str) -> None:
        """Keep what *source* holds from its place on; nothing where it is there."""

    def open(self, digest: str) -> BinaryIO:
        """Return the content, to be read once; StoreError where it is missing."""

    def check(self, digest: str) -> str:
        """Return `missing`, `changed`, or nothing where the content is as it was."""

    def digests(self) -> Iterator[str]:
        """Yield the digest of everything that is kept."""


def pieces(source: BinaryIO) -> Iterator[bytes]:
    """Yield the rest of *source*, piece by piece."""
    while piece := source.read(PIECE):
        yield piece


def digest_of(source: BinaryIO) -> str:
    """Return the SHA-256 of the rest of *source*, as hexadecimal digits."""
    found = hashlib.sha256()
    for piece in pieces(source):
        found.update(piece)
    return found.hexdigest()
