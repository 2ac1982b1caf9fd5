"""`witnessmark judge`: a readings file in, a verdict a row out."""

import sys
from pathlib import Path

import click

from webapp.commands.judge_output import SHAPES

FORMATS = ("json", "csv", "table", "parquet")


@click.command(name="judge")
@click.argument(
    "file",
    type=click.Path(exists=True, dir_okay=False, allow_dash=True, path_type=Path),
)
@click.option(
    "--format",
    "shape",
    type=click.Choice(FORMATS),
    help="What is written; json where neither this nor --out says.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="A file to write, in the format that its name ends in.",
)
@click.option("--working", is_flag=True, help="Every row's working in csv, parquet.")
@click.option("--sheet", help="The sheet of a workbook that has several.")
@click.option(
    "--scheduler", metavar="ADDRESS", help="Judge on the Dask cluster at ADDRESS."
)
@click.option(
    "--criteria",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="Checks of tables, as `witnessmark criteria export` writes them.",
)
@click.option("--strict", is_flag=True, help="Exit 1 if any verdict is not within.")
def judge_command(
    file: Path,
    shape: str | None,
    out: Path | None,
    sheet: str | None,
    scheduler: str | None,
    criteria: Path | None,
    *,
    working: bool,
    strict: bool,
) -> None:
    """Judge every reading of FILE: CSV, a workbook or Parquet; - for CSV on input.

    The columns are described in docs/readings-file.md.
    """
    from webapp.commands.judge_run import Wanted, run  # noqa: PLC0415

    shape = shape or _shape_of(out)
    if shape == "parquet" and out is None:
        raise click.UsageError("parquet is written to a file: name it with --out.")
    if out is not None and out.exists():
        for read, what in ((file, "file that is read"), (criteria, "--criteria file")):
            if read is not None and read.exists() and out.samefile(read):
                raise click.UsageError(f"--out: this is the {what}.")

    wanted = Wanted(
        shape=shape,
        out=out,
        working=working,
        sheet=sheet,
        scheduler=scheduler,
        criteria=criteria,
        strict=strict,
    )
    sys.exit(run(None if str(file) == "-" else file, wanted))


def _shape_of(out: Path | None) -> str:
    if out is None:
        return "json"
    if out.suffix.lower() not in SHAPES:
        known = ", ".join(SHAPES)
        raise click.UsageError(f"--out: the name ends in none of {known}.")
    return SHAPES[out.suffix.lower()]
