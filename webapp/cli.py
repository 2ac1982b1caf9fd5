"""The command line: `witnessmark ...`."""

import logging
import sys
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import UUID

import click

from models.errors import WitnessmarkError
from webapp.clock import new_id, now
from webapp.commands.criteria import criteria_command
from webapp.commands.judge import judge_command
from webapp.commands.verify import verify_command
from webapp.config import Config, instance_dir, load_config

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

PORT = 8700
THREADS = 8


@click.group()
@click.version_option(package_name="witnessmark")
def main() -> None:
    """Acceptance-test and commissioning records of medium-voltage switchgear."""


main.add_command(judge_command)
main.add_command(criteria_command)
main.add_command(verify_command)


@main.command()
def migrate() -> None:
    """Bring the database to the newest revision."""
    from webapp.migrating import migrate as run  # noqa: PLC0415

    config = ready_instance()
    run(config.database)
    click.echo("The database is at the newest revision.")


@main.command()
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", default=PORT, show_default=True)
def serve(host: str, port: int) -> None:
    """Serve the program; put a TLS proxy before it for tablets."""
    serve_app(load_config(), host, port)


@main.command()
@click.option("--port", default=PORT, show_default=True)
@click.option("--load-only", is_flag=True, help="Load the demo, do not serve.")
def demo(port: int, load_only: bool) -> None:  # noqa: FBT001
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


@main.group()
def user() -> None:
    """People and their keys."""


@user.command("add")
@click.argument("sign_in")
@click.option("--name", required=True, help="Printed name, as on signatures.")
@click.option(
    "--role", required=True, type=click.Choice(["technician", "lead", "owner"])
)
@click.option("--organisation", required=True, help="Made if it is not there yet.")
@click.option("--address", default="", help="Of the organisation, if it is new.")
@click.option("--site", multiple=True, help="Site to assign, by name; repeatable.")
@click.password_option(help="At least ten characters.")
def user_add(
    sign_in: str,
    name: str,
    role: str,
    organisation: str,
    address: str,
    site: tuple[str, ...],
    password: str,
) -> None:
    """Add a person with a signing key that only their password opens."""
    from models.services.people.enrol import enrol_person  # noqa: PLC0415

    config = load_config()
    with open_database(config) as session:
        enrol_person(
            session,
            sign_in=sign_in,
            name=name,
            role=role,
            organisation=organisation,
            address=address,
            site_names=site,
            password=password,
            secret=config.secret,
            now=now(),
            new_id=new_id,
        )
        session.commit()
    click.echo(f"{name} can sign in as '{sign_in.lower()}'.")


@main.command()
@click.argument("round_id", type=click.UUID)
@click.option("-o", "--output", type=click.Path(path_type=Path))
def report(round_id: UUID, output: Path | None) -> None:
    """Write the newest package of a round as PDF."""
    from models.services.turnover.package import package_of_round  # noqa: PLC0415

    with open_database(load_config()) as session:
        name, pdf = package_of_round(session, round_id=round_id)
    path = output or Path(name)
    path.write_bytes(pdf)
    click.echo(f"{path} ({len(pdf) / 1024:.0f} KiB)")


@main.command()
def check() -> None:
    """Check the log's chain and the database's own integrity."""
    from models.services.keeping.check_record import check_record  # noqa: PLC0415

    with open_database(load_config()) as session:
        found = check_record(session)
    for fault in found.faults:
        click.echo(fault, err=True)
    click.echo(f"{found.entries} log entries, head {found.head}")
    sys.exit(1 if found.faults else 0)


def open_database(config: Config) -> "Session":
    """Open a session for a command."""
    from sqlalchemy.orm import Session  # noqa: PLC0415

    from models.schema.engine import make_engine  # noqa: PLC0415

    return Session(make_engine(config.database), expire_on_commit=False)


def ready_instance() -> Config:
    """Return the settings, with the instance folder in place."""
    instance_dir().mkdir(parents=True, exist_ok=True)
    return load_config()


def serve_app(config: Config, host: str, port: int) -> None:
    """Serve the application until it is stopped."""
    import waitress  # noqa: PLC0415

    from webapp import create_app  # noqa: PLC0415

    # A tablet asks for a dozen modules at once; that they wait a moment is no warning.
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    try:
        waitress.serve(create_app(config), host=host, port=port, threads=THREADS)
    except OSError as error:
        raise click.ClickException(
            f"Port {port} cannot be used ({error.strerror}): choose another with "
            "--port, or PORT=... for make demo."
        ) from error


def run() -> None:
    """Run the command line; errors raised on purpose are said without a trace."""
    try:
        main()
    except WitnessmarkError as error:
        raise SystemExit(f"witnessmark: {error}") from error


if __name__ == "__main__":
    run()
