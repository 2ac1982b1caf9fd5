"""`witnessmark check`: is the record whole?"""

import sys

import click

from webapp.commands.instance import open_database
from webapp.config import load_config


@click.command(name="check")
def check_command() -> None:
    """Check the log's chain and the database's own integrity."""
    from models.services.keeping.check_record import check_record  # noqa: PLC0415

    with open_database(load_config(), reading=True) as session:
        found = check_record(session)
    for fault in found.faults:
        click.echo(fault, err=True)
    click.echo(f"{found.entries} log entries, head {found.head}")
    sys.exit(1 if found.faults else 0)
