"""Where `witnessmark judge` writes: standard output, or a file that is whole."""

import os
import stat
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
    whole: what was there before stays until then. A pipe or a device is written to as
    it is. Raises OSError with the name that was given.
    """
    if path is None:
        with _standard_output() as file:
            yield file
    elif path.exists() and not path.is_file():
        with path.open("wb") as file:
            yield file
    else:
        with _whole(path) as file:
            yield file


@contextmanager
def _standard_output() -> Iterator[IO[bytes]]:
    try:
        sys.stdout.flush()
        yield sys.stdout.buffer
        sys.stdout.buffer.flush()
    except BrokenPipeError:
        raise
    except OSError:
        _give_up()
        raise


def _give_up() -> None:
    """Send what is still held back nowhere: at its end Python would try once more."""
    with suppress(OSError):  # in a test there is no such file
        nowhere = os.open(os.devnull, os.O_WRONLY)
        try:
            os.dup2(nowhere, sys.stdout.fileno())
        finally:
            os.close(nowhere)


@contextmanager
def _whole(path: Path) -> Iterator[IO[bytes]]:
    target = path.resolve()  # a link stays one
    beside = target.with_name(f".{target.name}.{uuid4().hex}.part")
    try:
        with _begun(beside, path) as file:
            if target.exists():
                beside.chmod(stat.S_IMODE(target.stat().st_mode))
            yield file
            file.flush()
            os.fsync(file.fileno())
        beside.replace(target)
    finally:
        with suppress(OSError):  # it has its name, or was never begun
            beside.unlink()


def _begun(beside: Path, path: Path) -> IO[bytes]:
    try:
        return beside.open("xb")
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(path)) from error
