"""`witnessmark judge`: a readings file in, a verdict a row out."""

import csv
import gc
import sys
from collections.abc import Callable, Iterable, Iterator
from typing import BinaryIO, TextIO

import click

from models.analysis.readings_file import JudgedRow, judge_rows, read_rows
from models.criteria import load
from models.errors import InputError
from models.judging.quantities import said_unit
from models.judging.wording import figure
from webapp.judge_lines import json_line

CANNOT_READ = 2
NOT_ALL_WITHIN = 1
STEP = 1000  # rows between two moves of the progress bar

Writer = Callable[[Iterable[JudgedRow], TextIO], None]


@click.command(name="judge")
@click.argument("file", type=click.File("rb"))
@click.option(
    "--format",
    "shape",
    type=click.Choice(["json", "csv", "table"]),
    default="json",
    show_default=True,
)
@click.option("--strict", is_flag=True, help="Exit 1 if any verdict is not within.")
def judge_command(file: BinaryIO, shape: str, *, strict: bool) -> None:
    """Judge every reading of FILE (CSV in UTF-8; - for standard input).

    The columns are described in docs/readings-file.md.
    """
    gc.disable()  # the rows hold no cycles, and there may be a great many of them
    try:
        rows = read_rows(file.read(), load())
    except InputError as error:
        for fault in error.faults:
            click.echo(one_line(str(fault)), err=True)
        sys.exit(CANNOT_READ)
    sys.stdout.reconfigure(encoding="utf-8", newline="\n")  # type: ignore[union-attr]
    all_within = True

    def watched() -> Iterator[JudgedRow]:
        nonlocal all_within
        with _progress(len(rows)) as bar:
            for number, judged in enumerate(judge_rows(rows), start=1):
                all_within &= judged.judgement.verdict == "within"
                if number % STEP == 0:
                    bar(STEP)
                yield judged

    WRITERS[shape](watched(), sys.stdout)
    if strict and not all_within:
        sys.exit(NOT_ALL_WITHIN)


class _progress:  # noqa: N801 (used as a word in a with statement)
    """A bar on standard error, where that is a terminal and output is not."""

    def __init__(self, total: int) -> None:
        shown = sys.stderr.isatty() and not sys.stdout.isatty()
        self._bar = (
            click.progressbar(length=total, label="Judging", file=sys.stderr)
            if shown and total > STEP
            else None
        )

    def __enter__(self) -> Callable[[int], None]:
        if self._bar is not None:
            self._bar.__enter__()
            return self._bar.update
        return lambda _n: None

    def __exit__(self, *error: object) -> None:
        if self._bar is not None:
            self._bar.__exit__(*error)  # type: ignore[arg-type]


def one_line(text: str) -> str:
    """Return *text* as one line: what a cell holds must not steer a terminal."""
    return "".join(c if c.isprintable() else repr(c)[1:-1] for c in text)


def write_json(rows: Iterable[JudgedRow], out: TextIO) -> None:
    """Write one JSON object a line."""
    for row in rows:
        out.write(json_line(row))


def write_csv(rows: Iterable[JudgedRow], out: TextIO) -> None:
    """Write one row a reading; cites and working joined, for people."""
    writer: csv.DictWriter[str] | None = None
    for row in rows:
        flat = row.as_json()
        flat["cite"] = "; ".join(
            " ".join(str(c[k]) for k in ("document", "edition", "table", "row") if c[k])
            + f" ({c['provenance']})"
            for c in flat["cite"]
        )
        flat["working"] = " ".join(flat["working"])
        if writer is None:
            writer = csv.DictWriter(out, list(flat), lineterminator="\n")
            writer.writeheader()
        writer.writerow(flat)


def write_table(rows: Iterable[JudgedRow], out: TextIO) -> None:
    """Write a table to read: id, test, verdict, corrected value, limits, reason."""
    out.write(f"{'id':<16}{'test':<23}{'verdict':<10}{'at reference':>16}  reason\n")
    for row in rows:
        judgement = row.judgement
        corrected = "–"
        if judgement.corrected is not None:
            unit = said_unit(judgement.corrected_unit)
            corrected = f"{figure(judgement.corrected)} {unit}"
        out.write(
            f"{one_line(row.id):<15} {row.test:<22} {judgement.verdict:<9} "
            f"{corrected:>16}  {judgement.reason}\n"
        )


WRITERS: dict[str, Writer] = {
    "json": write_json,
    "csv": write_csv,
    "table": write_table,
}
