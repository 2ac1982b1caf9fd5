"""Where `witnessmark judge` writes: standard output, or a file that is whole."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO
from uuid import uuid4

SHAPES = {
    ".json": "json",
    ".jsonl": "json",
    ".ndjson": "json",
    ".csv": "csv",
    ".txt": "table",
    ".parquet": "parquet",
}


@contextmanager
def output(path: Path | None) -> Iterator[IO[bytes]]:
    """Give the file to write to.

    One with a name is written beside it under another, and takes its own when it is
    whole: what was there before stays until then.
    """
    if path is None:
        sys.stdout.flush()
        yield sys.stdout.buffer
        sys.stdout.buffer.flush()
        return
    beside = path.with_name(f".{path.name}.{uuid4().hex}.part")
    try:
        with beside.open("xb") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    finally:
        with suppress(FileNotFoundError):
            beside.unlink()
