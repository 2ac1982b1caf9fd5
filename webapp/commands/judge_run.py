"""`witnessmark judge` at work: check the whole file, then judge and write it."""

import gc
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import BinaryIO

import click

from models.analysis.judge_file import CheckedFile, Judge, Watch, checked_file
from models.analysis.judge_part import judge_all, judge_briefly
from models.analysis.open_readings import open_readings
from models.analysis.parts import ROWS, ROWS_IN_WORDS, Source
from models.analysis.read_csv import CsvSource
from models.criteria import load
from models.criteria.checked import checked_criteria
from models.criteria.checks_file import read_checks, stale
from models.errors import Fault, InputError
from models.judging import Criteria
from webapp.commands.judge_output import output
from webapp.commands.judge_progress import progress
from webapp.commands.judge_writers import Writer, one_line, writer_of

FAILED = 2
NOT_ALL_WITHIN = 1
EXTRAS = {"pyarrow": "bulk", "distributed": "cluster", "dask": "cluster"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What was asked for on the command line."""

    shape: str
    out: Path | None
    working: bool
    sheet: str | None
    scheduler: str | None
    criteria: Path | None  # checks of tables
    strict: bool

    @property
    def in_words(self) -> bool:
        """Return whether every row is put into words."""
        return self.working or self.shape in ("json", "table")


def run(path: Path | None, wanted: Wanted) -> int:
    """Judge the file at *path*, None for standard input; return the exit code."""
    gc.disable()  # the rows hold no cycles, and there may be a great many of them
    try:
        with _opened(path) as file:
            return _run(file, path, wanted)
    except InputError as error:
        for fault in error.faults:
            click.echo(one_line(str(fault)), err=True)
        return FAILED
    except BrokenPipeError:
        raise  # who reads has had enough
    except OSError as error:
        click.echo(one_line(_said(error)), err=True)
        return FAILED
    except ModuleNotFoundError as error:
        extra = EXTRAS.get(error.name or "")
        if extra is None:
            raise
        said = f"{error.name} is not installed: install witnessmark[{extra}]."
        raise click.UsageError(said) from error


def _said(error: OSError) -> str:
    reason = error.strerror or str(error)
    return f"{error.filename}: {reason}." if error.filename else f"{reason}."


def _run(file: BinaryIO, path: Path | None, wanted: Wanted) -> int:
    writer = writer_of(wanted.shape, working=wanted.working)
    rows = ROWS_IN_WORDS if wanted.in_words else ROWS
    if path is None:
        source: Source = CsvSource(file, rows)
    else:
        source = open_readings(file, wanted.sheet, rows)
    criteria = _criteria(wanted.criteria)
    with ExitStack() as stack:
        with _reading(path, source) as watch:
            checked = stack.enter_context(checked_file(source, criteria, watch))
        out = stack.enter_context(output(wanted.out))
        within = _judge(checked, writer(out), wanted)
    return NOT_ALL_WITHIN if wanted.strict and not within else 0


def _criteria(path: Path | None) -> Criteria:
    """Return the published tables, with the checks of rows in the file at *path*.

    Says on standard error which of them hold no longer. Raises InputError with the
    name of the file before each fault.
    """
    if path is None:
        return load()
    try:
        checks = read_checks(path.read_text("utf-8"))
    except UnicodeDecodeError as error:
        message = f"byte {error.start + 1} is not UTF-8."
        raise InputError(Fault(field=str(path), message=message)) from error
    except InputError as error:
        faults = [Fault(field=str(path), message=str(f)) for f in error.faults]
        raise InputError(*faults) from error
    for row in stale(checks):
        said = f"{path}: {row}: another figure is shipped by now; the check is not used"
        click.echo(one_line(said), err=True)
    return checked_criteria(load(), checks)


def _judge(checked: CheckedFile, writer: Writer, wanted: Wanted) -> bool:
    """Judge and write every part; return whether all verdicts are within."""
    within, rows = True, 0
    with ExitStack() as stack:
        judge: Judge = partial(map, judge_all if writer.words else judge_briefly)
        if wanted.scheduler is not None:
            judge = stack.enter_context(_cluster(wanted.scheduler, words=writer.words))
        shown = sys.stderr.isatty() and not (wanted.out is None and sys.stdout.isatty())
        bar = progress("Judging", checked.rows, shown=shown)
        reached = stack.enter_context(bar)
        for part in judge(checked.work()):
            writer.part(part)
            within = within and part.all_within
            rows += len(part.rows)
            reached(rows, rows)
        writer.end()
    return within


@contextmanager
def _cluster(address: str, *, words: bool) -> Iterator[Judge]:
    from models.analysis.cluster import cluster  # noqa: PLC0415

    with ExitStack() as stack:
        try:
            judge = stack.enter_context(cluster(address, words=words))
        except OSError as error:
            raise click.UsageError(f"--scheduler: {error}") from error
        yield judge


@contextmanager
def _opened(path: Path | None) -> Iterator[BinaryIO]:
    if path is None:
        yield sys.stdin.buffer
        return
    with path.open("rb") as file:
        yield file


@contextmanager
def _reading(path: Path | None, source: Source) -> Iterator[Watch]:
    """Give what is told of every part that was read; a bar for a file of CSV."""
    lines = source.lines if isinstance(source, CsvSource) else None
    length = path.stat().st_size if path and lines else None
    rows = 0
    with progress("Reading", length, shown=sys.stderr.isatty()) as reached:

        def watch(more: int) -> None:
            nonlocal rows
            rows += more
            reached(lines.taken if lines else 0, rows)

        yield watch
