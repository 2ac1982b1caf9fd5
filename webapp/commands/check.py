"""`witnessmark check`: is the record whole?"""

import sys

import click

from webapp.commands.instance import open_database
from webapp.config import load_config


@click.command(name="check")
@click.option(
    "--without-files",
    is_flag=True,
    help="Do not read the attached files: a large store takes long.",
)
def check_command(without_files: bool) -> None:  # noqa: FBT001
    """Check the log's chain, the database's own integrity, and the attached files."""
    from models.services.keeping.check_files import check_files  # noqa: PLC0415
    from models.services.keeping.check_record import check_record  # noqa: PLC0415
    from webapp.file_store import store_of  # noqa: PLC0415

    config = load_config()
    with open_database(config, reading=True) as session:
        found = check_record(session)
        faults = list(found.faults)
        if not without_files:
            faults.extend(check_files(session, store_of(config)))
    for fault in faults:
        click.echo(fault, err=True)
    click.echo(f"{found.entries} log entries, head {found.head}")
    if without_files:
        click.echo("The attached files were not read.")
    sys.exit(1 if faults else 0)
