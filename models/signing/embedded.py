"""The files inside a PDF, read without letting them grow past all bounds."""

import io
import zlib
from typing import Any

from models.errors import Fault, InputError

LARGEST = 64 * 1024 * 1024  # bytes of one file; the record of a round has a few million


class EmbeddedFileError(InputError):
    """A file inside the PDF is larger, or packed otherwise, than a package's are."""

    def __init__(self, name: str, why: str) -> None:
        super().__init__(Fault(field=name, message=why))


def embedded_files(pdf: bytes, names: tuple[str, ...]) -> dict[str, bytes]:
    """Return those of the files *names* that are inside, as the PDF now stands.

    Raises EmbeddedFileError for one that unpacks to more than LARGEST bytes, and
    whatever the PDF library raises for what is no PDF.
    """
    import pikepdf

    with pikepdf.open(io.BytesIO(pdf)) as document:
        return {
            name: _unpacked(name, document.attachments[name].get_file().obj)
            for name in names
            if name in document.attachments
        }


def _unpacked(name: str, stream: Any) -> bytes:
    """Return the stream's content; a few bytes can stand for gigabytes of it."""
    packed = bytes(stream.read_raw_bytes())
    if "/Filter" not in stream:
        return packed
    if stream.Filter != "/FlateDecode" or "/DecodeParms" in stream:
        raise EmbeddedFileError(name, "It is packed in a way that no package uses.")
    content = zlib.decompressobj().decompress(packed, LARGEST + 1)
    if len(content) > LARGEST:
        raise EmbeddedFileError(name, f"It unpacks to more than {LARGEST} bytes.")
    return content
