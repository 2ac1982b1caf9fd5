"""`witnessmark demo`: load a made-up site, and serve it."""

import click

from webapp.clock import now
from webapp.commands.instance import ready_instance
from webapp.commands.serve import PORT, serve_app


@click.command(name="demo")
@click.option("--port", default=PORT, show_default=True)
@click.option("--load-only", is_flag=True, help="Load the demo, do not serve.")
def demo_command(port: int, load_only: bool) -> None:  # noqa: FBT001
    """Serve a made-up site; a second run keeps what is there."""
    from seed_demo.people import PASSWORD, PEOPLE  # noqa: PLC0415
    from seed_demo.scenario import load_if_absent  # noqa: PLC0415
    from webapp.migrating import migrate as run  # noqa: PLC0415

    config = ready_instance()
    run(config.database)
    if load_if_absent(config, now(), report=click.echo):
        click.echo("The demo is loaded.")
    else:
        click.echo("The demo is there already; its data are kept.")
    if load_only:
        return
    click.echo(f"\n  Witnessmark demo at http://127.0.0.1:{port}\n")
    click.echo("  sign in as        for the")
    for person in PEOPLE:
        if person.shown:
            click.echo(f"  {person.sign_in:<16}  {person.what}")
    click.echo(f"\n  password of all: {PASSWORD}\n  Stop with Ctrl-C.\n")
    serve_app(config, "127.0.0.1", port)
