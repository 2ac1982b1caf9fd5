"""`witnessmark put-clock-back`: the server's clock ran ahead, and is right now."""

import click

from webapp.clock import now
from webapp.commands.instance import open_database
from webapp.config import load_config


@click.command(name="put-clock-back")
@click.option("--reason", required=True, help="Why the clock ran ahead.")
def put_clock_back_command(reason: str) -> None:
    """Say in the log that the server's clock ran ahead and is right now.

    An act is refused when the clock is behind the record's last entry. Put the
    clock right first; this is for the case that the last entry's time is the wrong
    one.
    """
    from models.services.keeping.log import put_clock_back  # noqa: PLC0415

    at = now()
    with open_database(load_config()) as session:
        ahead = put_clock_back(session, reason=reason, now=at)
        session.commit()
    last = f"{ahead:%Y-%m-%d %H:%M} UTC" if ahead else "none"
    click.echo(f"The last entry was of: {last}. From now on: {at:%Y-%m-%d %H:%M} UTC.")
