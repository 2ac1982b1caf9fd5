"""The lines of a text file in UTF-8, read block by block.

A line ends with a line feed, a carriage return or both, as the standard library's
reader of CSV wants it.
"""

import codecs
import io
from collections.abc import Iterator
from itertools import chain
from typing import BinaryIO

from models.analysis.parts import whole_file

BLOCK = 1 << 20  # bytes
LONGEST = 1 << 23  # characters of a line: whoever has more sends another file


class Lines:
    """An iterator of lines; *taken* counts the bytes that have been read.

    Raises InputError with the line of the first byte that is not text in UTF-8.
    """

    def __init__(self, file: BinaryIO) -> None:
        """Read from *file*, which need not be one that can be wound back."""
        self.taken = 0
        self._file = file
        self._ends = 0  # line feeds so far
        self._lines = chain.from_iterable(self._blocks())

    def __iter__(self) -> Iterator[str]:
        """Return the lines themselves: nothing stands between them and the reader."""
        return self._lines

    def _blocks(self) -> Iterator[list[str]]:
        decoder = codecs.getincrementaldecoder("utf-8")()
        tail = ""
        while True:
            block = self._file.read(BLOCK)
            self._look(block)
            text = tail + self._decoded(decoder, block)
            lines = io.StringIO(text, newline="").readlines()
            tail = ""
            # A carriage return at the end may be half of an end of line.
            if block and lines and not lines[-1].endswith("\n"):
                tail = lines.pop()
            if len(tail) > LONGEST:
                raise whole_file("this line has no end.", self._place())
            yield lines
            if not block:
                return
            self._ends += block.count(b"\n")

    def _look(self, block: bytes) -> None:
        if not self.taken and block.startswith((b"\xff\xfe", b"\xfe\xff")):
            raise whole_file("The file is UTF-16: save it as CSV in UTF-8.")
        self.taken += len(block)
        if b"\0" in block:
            said = "a NUL byte: this is not a CSV file in UTF-8."
            raise whole_file(said, self._place(block[: block.index(b"\0")]))

    def _decoded(self, decoder: codecs.IncrementalDecoder, block: bytes) -> str:
        first = self.taken == len(block)
        try:
            text = decoder.decode(block, final=not block)
        except UnicodeDecodeError as error:
            found = error.object[error.start]
            said = f"byte 0x{found:02x} is not UTF-8: save the file as CSV in UTF-8."
            place = self._place(error.object[: error.start])
            raise whole_file(said, place) from error
        return text.removeprefix("\ufeff") if first else text

    def _place(self, before: bytes = b"") -> str:
        return f"line {self._ends + before.count(chr(10).encode()) + 1}"
