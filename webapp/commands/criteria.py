"""`witnessmark criteria`: an organisation's checks of tables, as a file."""

from pathlib import Path

import click

from webapp.commands.instance import open_database
from webapp.config import load_config


@click.group(name="criteria")
def criteria_command() -> None:
    """Published tables, as an organisation checked them."""


@criteria_command.command("export")
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--organisation", required=True, help="Whose checks, by its name.")
def export(file: Path, organisation: str) -> None:
    """Write the checks that hold to FILE, for `witnessmark judge --criteria FILE`."""
    from models.criteria.checks_file import checks_text  # noqa: PLC0415
    from models.services.criteria.table_checks import checks_of_named  # noqa: PLC0415

    with open_database(load_config(), reading=True) as session:
        checks = checks_of_named(session, organisation)
    file.write_text(checks_text(checks), "utf-8")
    count = sum(map(len, checks.values()))
    click.echo(f"{file}: {count} {'row' if count == 1 else 'rows'} checked.")
