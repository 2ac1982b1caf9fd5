"""A checked readings file on disk, from which it is judged part by part.

The rows' numbers are kept apart from their texts, all rows of one size, so that a
single row far away can be fetched.
"""

import pickle
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from typing import IO, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.analysis.typed_rows import NO_TEXTS, Rows, Texts

AT_ONCE = 1 << 20  # hashes looked through in one go: 8 MiB of them


class Kept(NamedTuple):
    """A part as it comes back: *start* is the number of its first row in the file."""

    start: int
    ids: list[str]
    values: list[str]
    rows: Rows
    texts: Texts = NO_TEXTS


class Spool:
    """Temporary files for one readings file; they go when it is closed."""

    def __init__(self, fields: np.dtype[np.void]) -> None:
        """Begin without rows; *fields* are those of `typed_rows.fields_of`."""
        self.fields, self.length = fields, 0
        self._open = ExitStack()
        self._rows, self._texts = self._file(), self._file()
        self._places, self._hashes = self._file(), self._file()

    def _file(self) -> IO[bytes]:
        return self._open.enter_context(tempfile.TemporaryFile())

    def __enter__(self) -> "Spool":
        return self

    def __exit__(self, *_error: object) -> None:
        self._open.close()

    def add(
        self,
        places: Sequence[Any],
        ids: list[str],
        values: list[str],
        rows: Rows,
        texts: Texts = NO_TEXTS,
    ) -> None:
        """Keep a part."""
        self.length += len(rows)
        self._rows.write(rows.tobytes())
        kept = (ids, values, texts, len(rows))
        pickle.dump(kept, self._texts, pickle.HIGHEST_PROTOCOL)
        pickle.dump(np.asarray(places), self._places, pickle.HIGHEST_PROTOCOL)
        hashes = np.fromiter(map(hash, ids), np.int64, len(ids))
        self._hashes.write(hashes.tobytes())

    def parts(self) -> Iterator[Kept]:
        """Yield the parts as they were added."""
        self._rows.seek(0)
        start = 0
        for ids, values, texts, count in _unpickled(self._texts):
            self._rows.seek(start * self.fields.itemsize)
            yield Kept(start, ids, values, self._read(count), texts)
            start += count

    def fetch(self, numbers: NDArray[np.intp]) -> Rows:
        """Return single rows by their numbers in the file."""
        found = np.zeros(len(numbers), self.fields)
        for at, number in enumerate(numbers):
            self._rows.seek(int(number) * self.fields.itemsize)
            found[at] = self._read(1)[0]
        return found

    def _read(self, count: int) -> Rows:
        data = bytearray(self._rows.read(count * self.fields.itemsize))
        return np.frombuffer(data, self.fields)

    def twice(self) -> Iterator[tuple[Any, str, Any]]:
        """Yield each id that was used before: its place, the id, the first place."""
        suspects = self._suspects()
        first: dict[str, Any] = {}
        if not suspects:
            return
        places = _unpickled(self._places)
        for (ids, *_rest), where in zip(_unpickled(self._texts), places, strict=True):
            for each, place in zip(ids, where.tolist(), strict=True):
                if not each or hash(each) not in suspects:
                    continue
                if each in first:
                    yield place, each, first[each]
                first.setdefault(each, place)

    def _suspects(self) -> set[int]:
        """Return the hashes that come more than once."""
        shares = self.length // (8 * AT_ONCE) + 1
        found: set[int] = set()
        for share in range(shares):
            nothing = np.zeros(0, np.int64)
            hashes = np.concatenate([nothing, *self._share(share, shares)])
            hashes.sort()
            found.update(hashes[1:][hashes[1:] == hashes[:-1]].tolist())
        return found

    def _share(self, share: int, shares: int) -> Iterator[NDArray[np.int64]]:
        self._hashes.seek(0)
        while block := self._hashes.read(8 * AT_ONCE):
            hashes = np.frombuffer(block, np.int64)
            yield hashes[hashes % shares == share]


def _unpickled(file: IO[bytes]) -> Iterator[Any]:
    """Yield what was put into one of our own temporary files."""
    file.flush()
    file.seek(0)
    place = 0
    while True:
        file.seek(place)
        try:
            found = pickle.load(file)  # noqa: S301 (written by this process)
        except EOFError:
            return
        place = file.tell()
        yield found
