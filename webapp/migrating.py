"""Bring a database to the newest revision."""

from importlib.resources import files

from alembic import command
from alembic.config import Config as AlembicConfig
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import inspect

from models.schema.engine import make_engine


def alembic_config(url: str) -> AlembicConfig:
    """Return Alembic's configuration for the database at *url*."""
    config = AlembicConfig()
    config.set_main_option("script_location", str(files("migrations")))
    config.attributes["url"] = url
    return config


def migrate(url: str) -> None:
    """Upgrade the database at *url* to the newest revision."""
    command.upgrade(alembic_config(url), "head")


def revisions(url: str) -> tuple[str | None, str | None]:
    """Return the revision of the database at *url*, and the newest there is.

    The first is None for a database without tables.
    """
    newest = ScriptDirectory.from_config(alembic_config(url)).get_current_head()
    engine = make_engine(url)
    try:
        with engine.connect() as connection:
            found = MigrationContext.configure(connection).get_current_revision()
    finally:
        engine.dispose()
    return found, newest


def has_tables(url: str) -> bool:
    """Return whether the database at *url* holds any table."""
    engine = make_engine(url)
    try:
        return bool(inspect(engine).get_table_names())
    finally:
        engine.dispose()
