"""Write the parts of an export: into a folder, or as a zip that is sent as it grows."""

import hashlib
import io
import zipfile
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from webapp.export.parts import Part

SUMS = "SHA256SUMS"
WHEN = (1980, 1, 1, 0, 0, 0)  # a zip's earliest: the same bytes every time
READABLE = 0o644 << 16
Report = Callable[[str, int], None]  # path and bytes of what was written


def write_folder(parts: Iterable[Part], folder: Path, report: Report) -> None:
    """Write each part under *folder*, which is made; FileExistsError where it is."""
    folder.mkdir(parents=True)
    sums: dict[str, str] = {}
    for part in parts:
        path = folder / part.path
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as file:
            for piece in _summed(part, sums):
                file.write(piece)
            report(part.path, file.tell())
    (folder / SUMS).write_bytes(sums_text(sums))


def zipped(parts: Iterable[Part], root: str) -> Iterator[bytes]:
    """Yield a zip with every part in the folder *root*.

    Nothing of it is kept: a part is sent while it is made. Where a part fails, the
    zip has no end and no program takes it for a whole one.
    """
    out = _Passing()
    sums: dict[str, str] = {}
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for part in parts:
            with archive.open(_entry(f"{root}/{part.path}"), "w") as file:
                for piece in _summed(part, sums):
                    file.write(piece)
                    yield from out.taken()
            yield from out.taken()
        archive.writestr(_entry(f"{root}/{SUMS}"), sums_text(sums))
    yield from out.taken()


def sums_text(sums: dict[str, str]) -> bytes:
    """Return the sums as `sha256sum -c` reads them."""
    return "".join(f"{digest}  {path}\n" for path, digest in sums.items()).encode()


def _entry(path: str) -> zipfile.ZipInfo:
    made = zipfile.ZipInfo(path, WHEN)
    made.compress_type = zipfile.ZIP_DEFLATED
    made.external_attr = READABLE
    return made


def _summed(part: Part, sums: dict[str, str]) -> Iterator[bytes]:
    digest = hashlib.sha256()
    for piece in part.content:
        digest.update(piece)
        yield piece
    sums[part.path] = digest.hexdigest()


class _Passing(io.RawIOBase):
    """What a zip is written to: it holds only what was not sent yet."""

    def __init__(self) -> None:
        self._held: list[bytes] = []

    def writable(self) -> bool:
        return True

    def write(self, data: "bytes | bytearray | memoryview") -> int:  # type: ignore[override]
        self._held.append(bytes(data))
        return len(data)

    def taken(self) -> Iterator[bytes]:
        """Yield what was written since, and forget it."""
        held, self._held = self._held, []
        if held:
            yield b"".join(held)
