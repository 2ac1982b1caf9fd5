"""`witnessmark migrate`: bring the database to the newest revision."""

import click

from webapp.commands.instance import ready_instance


@click.command(name="migrate")
def migrate_command() -> None:
    """Bring the database to the newest revision."""
    from webapp.migrating import migrate as run  # noqa: PLC0415

    config = ready_instance()
    run(config.database)
    click.echo("The database is at the newest revision.")
