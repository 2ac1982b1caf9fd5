"""`witnessmark user`: people and their keys."""

import click

from webapp.clock import new_id, now
from webapp.commands.instance import open_database
from webapp.config import load_config


@click.group(name="user")
def user_command() -> None:
    """People and their keys."""


@user_command.command("add")
@click.argument("sign_in")
@click.option("--name", required=True, help="Printed name, as on signatures.")
@click.option(
    "--role",
    required=True,
    multiple=True,
    type=click.Choice(["lead", "technician", "owner", "administrator"]),
    help="Repeatable: one person may hold several.",
)
@click.option("--organisation", required=True, help="Made if it is not there yet.")
@click.option("--address", default="", help="Of the organisation, if it is new.")
@click.option("--site", multiple=True, help="Site to assign, by name; repeatable.")
@click.password_option(help="At least 12 characters.")
def user_add(
    sign_in: str,
    name: str,
    role: tuple[str, ...],
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
            roles=role,
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
