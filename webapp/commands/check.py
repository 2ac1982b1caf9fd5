"""`witnessmark check`: is the record whole?"""

import sys
from typing import TYPE_CHECKING

import click

from webapp.clock import now
from webapp.commands.instance import open_database
from webapp.config import load_config
from webapp.last_check import LastCheck, keep_last_check

if TYPE_CHECKING:
    from models.services.keeping.check_record import Check


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
    _keep(found, len(faults), with_files=not without_files)
    sys.exit(1 if faults else 0)


def _keep(found: "Check", faults: int, *, with_files: bool) -> None:
    """Write down for the administrator's page that the record was checked."""
    try:
        keep_last_check(
            LastCheck(
                at=now().isoformat(),
                entries=found.entries,
                head=found.head,
                faults=faults,
                with_files=with_files,
            )
        )
    except OSError as error:
        click.echo(f"The page of the installation will not show it: {error}.", err=True)
