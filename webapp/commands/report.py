"""`witnessmark report`: write the newest package of a round."""

from pathlib import Path
from uuid import UUID

import click

from webapp.commands.instance import open_database
from webapp.config import load_config


@click.command(name="report")
@click.argument("round_id", type=click.UUID)
@click.option("-o", "--output", type=click.Path(path_type=Path))
def report_command(round_id: UUID, output: Path | None) -> None:
    """Write the newest package of a round as PDF."""
    from models.services.turnover.package import package_of_round  # noqa: PLC0415

    with open_database(load_config(), reading=True) as session:
        name, pdf = package_of_round(session, round_id=round_id)
    path = output or Path(name)
    path.write_bytes(pdf)
    click.echo(f"{path} ({len(pdf) / 1024:.0f} KiB)")
