"""`witnessmark serve`: serve the program until it is stopped."""

import logging
import secrets

import click

from webapp.clock import new_id, now
from webapp.commands.instance import open_database, ready_instance
from webapp.config import Config

PORT = 8700
THREADS = 8
# Bytes of a request that are taken in before anybody is asked who sends it. What is
# larger than the program takes is answered by a page up to here, beyond by one line.
MOST_TAKEN_IN = 200_000_000


@click.command(name="serve")
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", default=PORT, show_default=True)
def serve_command(host: str, port: int) -> None:
    """Serve the program; put a TLS proxy before it for tablets.

    An empty instance gets its database, and a code to set it up with.
    """
    config = ready_instance()
    make_if_empty(config.database)
    refuse_other_revision(config.database)
    if code := code_of_first_start(config):
        click.echo(
            f"\n  This installation is not set up yet. Open\n\n"
            f"      http://{host}:{port}\n\n"
            f"  and give this code:  {code}\n\n"
            "  It is valid for 24 hours; each start prints a new one.\n"
        )
    serve_app(config, host, port)


def make_if_empty(url: str) -> None:
    """Make the tables where there is none at all."""
    from webapp.migrating import has_tables, migrate  # noqa: PLC0415

    if not has_tables(url):
        migrate(url)


def code_of_first_start(config: Config) -> str:
    """Return a fresh code for the set-up; '' where there are people already."""
    from models.services.people.first_start import (  # noqa: PLC0415
        ALPHABET,
        CODE_LENGTH,
        renew_code,
    )

    code = "".join(secrets.choice(ALPHABET) for _ in range(CODE_LENGTH))
    with open_database(config) as session:
        ends = renew_code(session, code=code, row_id=new_id(), now=now())
        session.commit()
    half = CODE_LENGTH // 2
    return f"{code[:half]}-{code[half:]}" if ends else ""


def refuse_other_revision(url: str) -> None:
    """Raise ClickException where the database is not of the newest revision.

    Pages of a database that lacks a table would fail one by one, in the middle of work.
    """
    from webapp.migrating import revisions  # noqa: PLC0415

    found, newest = revisions(url)
    if found == newest:
        return
    raise click.ClickException(
        f"The database is at revision {found}; this program wants {newest}. Make a "
        "copy of it, run `witnessmark migrate`, then serve again."
        if found
        else "The database holds tables, but none that says which revision of this "
        "program made them. Give it a database of its own (WITNESSMARK_DATABASE)."
    )


def serve_app(config: Config, host: str, port: int) -> None:
    """Serve the application until it is stopped."""
    import waitress  # noqa: PLC0415

    from webapp import create_app  # noqa: PLC0415

    # A tablet asks for a dozen modules at once; that they wait a moment is no warning.
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    try:
        waitress.serve(
            create_app(config),
            host=host,
            port=port,
            threads=THREADS,
            max_request_body_size=max(MOST_TAKEN_IN, 2_000_000 * config.file_mb),
            # Of a proxy that nobody named, what it says of who asks is thrown away.
            clear_untrusted_proxy_headers=not config.proxy,
        )
    except OSError as error:
        raise click.ClickException(
            f"Port {port} cannot be used ({error.strerror}): choose another with "
            "--port, or PORT=... for make demo."
        ) from error
