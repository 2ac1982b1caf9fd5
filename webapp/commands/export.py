"""`witnessmark export`: write everything on record of a site, a lineup or a round."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from webapp.commands.instance import open_database
from webapp.config import load_config

if TYPE_CHECKING:
    from webapp.export.parts import Part


@click.command(name="export")
@click.argument("scope", metavar="ROUND|LINEUP|SITE")
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    help="A folder that is not there yet, or a file that ends in .zip.",
)
def export_command(scope: str, output: Path | None) -> None:
    """Write everything on record of a site, a lineup or a round in open forms.

    Say which by its id, or by names: "SITE", "SITE/LINEUP" or
    "SITE/LINEUP/Acceptance round 1".
    """
    from models.services.export.scope import scope_named  # noqa: PLC0415
    from webapp.export.parts import parts, slug  # noqa: PLC0415
    from webapp.file_store import store_of  # noqa: PLC0415

    config = load_config()
    with open_database(config, reading=True) as session:
        found = scope_named(session, scope)
        path = output or Path(f"export-{slug(found.name)}")
        if path.exists():
            raise click.ClickException(f"{path} is there already: name another.")
        _write(parts(session, store_of(config), found), path)
    click.echo(f"{found.name}: {path}")


def _write(content: "Iterator[Part]", path: Path) -> None:
    from webapp.export.writing import write_folder, zipped  # noqa: PLC0415

    def report(part: str, size: int) -> None:
        click.echo(f"  {part} ({size / 1024:.0f} KiB)", err=True)

    if path.suffix.lower() != ".zip":
        write_folder(content, path, report)
        return
    beside = path.with_name(f"{path.name}.part")
    with beside.open("xb") as file:
        for piece in zipped(_told(content), path.stem):
            file.write(piece)
    beside.rename(path)


def _told(content: "Iterator[Part]") -> "Iterator[Part]":
    for part in content:
        click.echo(f"  {part.path}", err=True)
        yield part
