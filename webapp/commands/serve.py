"""`witnessmark serve`: serve the program until it is stopped."""

import logging

import click

from webapp.config import Config, load_config

PORT = 8700
THREADS = 8


@click.command(name="serve")
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", default=PORT, show_default=True)
def serve_command(host: str, port: int) -> None:
    """Serve the program; put a TLS proxy before it for tablets."""
    config = load_config()
    refuse_other_revision(config.database)
    serve_app(config, host, port)


def refuse_other_revision(url: str) -> None:
    """Raise ClickException where the database is not of the newest revision.

    Pages of a database that lacks a table would fail one by one, in the middle of work.
    """
    from webapp.migrating import revisions  # noqa: PLC0415

    found, newest = revisions(url)
    if found == newest:
        return
    stands = f"is at revision {found}" if found else "has no tables yet"
    raise click.ClickException(
        f"The database {stands}; this program wants {newest}. Make a copy of it, run "
        "`witnessmark migrate`, then serve again."
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
            # Of a proxy that nobody named, what it says of who asks is thrown away.
            clear_untrusted_proxy_headers=not config.proxy,
        )
    except OSError as error:
        raise click.ClickException(
            f"Port {port} cannot be used ({error.strerror}): choose another with "
            "--port, or PORT=... for make demo."
        ) from error
