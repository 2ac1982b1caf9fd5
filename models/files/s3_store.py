"""A bucket of an S3-compatible server as the store of files."""

import io
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, BinaryIO
from urllib.parse import urlsplit

from models.errors import StoreError
from models.files.folder_store import NAME, missing
from models.files.store import PIECE, digest_of

if TYPE_CHECKING:
    from obstore.store import S3Store


class BucketStore:
    """Keeps each file as `prefix/ab/abcd...`, written once.

    Server, region and keys come from the environment (`AWS_ENDPOINT`, `AWS_REGION`,
    `AWS_ACCESS_KEY_ID`, `AWS_SECRET_ACCESS_KEY`, `AWS_ALLOW_HTTP`). The library's
    threads do not survive a fork, so it is begun when the first file is asked for.
    """

    def __init__(self, address: str) -> None:
        """Use *address*, such as s3://bucket/prefix; StoreError where it is none."""
        parts = urlsplit(address)
        if parts.scheme != "s3" or not parts.netloc or parts.query:
            raise StoreError(f"'{address}' is no address such as s3://bucket/prefix.")
        self.bucket = parts.netloc
        self.prefix = parts.path.strip("/")
        self._begun: S3Store | None = None

    def put(self, source: BinaryIO, digest: str) -> None:
        """Send the content in one piece; a server that has it already keeps its own."""
        content = source.read()
        if digest_of(io.BytesIO(content)) != digest:
            raise StoreError("What was to be kept is not what was sent.")
        with _said():
            import obstore  # noqa: PLC0415 (an extra)
            from obstore.exceptions import AlreadyExistsError  # noqa: PLC0415

            try:
                obstore.put(
                    self._store(),
                    self._key(digest),
                    content,
                    mode="create",
                    use_multipart=False,
                )
            except AlreadyExistsError:
                return

    def open(self, digest: str) -> BinaryIO:
        """Return the content as a stream."""
        with _said():
            import obstore  # noqa: PLC0415

            try:  # its error for this is one of Python's too
                answer = obstore.get(self._store(), self._key(digest))
            except FileNotFoundError as error:
                raise missing(digest) from error
            stream = _Stream(bytes(piece) for piece in answer.stream(PIECE))
            return io.BufferedReader(stream)

    def check(self, digest: str) -> str:
        """Read the whole content and compare."""
        try:
            with self.open(digest) as file:
                return "" if digest_of(file) == digest else "changed"
        except StoreError as error:
            if isinstance(error.__cause__, FileNotFoundError):
                return "missing"
            raise

    def digests(self) -> Iterator[str]:
        """Yield the name of everything under the prefix."""
        with _said():
            import obstore  # noqa: PLC0415

            for some in obstore.list(self._store(), self.prefix or None):
                for one in some:
                    name = one["path"].rpartition("/")[2]
                    if NAME.fullmatch(name):
                        yield name

    def _key(self, digest: str) -> str:
        return "/".join(filter(None, (self.prefix, digest[:2], digest)))

    def _store(self) -> "S3Store":
        if self._begun is None:
            from obstore.store import S3Store  # noqa: PLC0415

            self._begun = S3Store(self.bucket)
        return self._begun


class _Stream(io.RawIOBase):
    """Pieces that arrive one after the other, as a file."""

    def __init__(self, pieces: Iterator[bytes]) -> None:
        self._pieces, self._rest = pieces, b""

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: "bytearray | memoryview") -> int:  # type: ignore[override]
        if not self._rest:
            with _said():
                self._rest = next(self._pieces, b"")
        count = min(len(buffer), len(self._rest))
        buffer[:count] = self._rest[:count]
        self._rest = self._rest[count:]
        return count


@contextmanager
def _said() -> Iterator[None]:
    """Turn the library's errors into one of ours."""
    try:
        from obstore.exceptions import BaseError  # noqa: PLC0415
    except ImportError as error:
        raise StoreError(
            "Files are set to go to an S3 store (WITNESSMARK_FILES), and the library "
            "for it is not installed: pip install witnessmark[s3]."
        ) from error
    try:
        yield
    except (BaseError, OSError) as error:
        raise StoreError(f"The S3 store of files does not answer: {error}") from error
