"""Bring a database to the newest revision."""

from importlib.resources import files

from alembic import command
from alembic.config import Config as AlembicConfig


def alembic_config(url: str) -> AlembicConfig:
    """Return Alembic's configuration for the database at *url*."""
    config = AlembicConfig()
    config.set_main_option("script_location", str(files("migrations")))
    config.attributes["url"] = url
    return config


def migrate(url: str) -> None:
    """Upgrade the database at *url* to the newest revision."""
    command.upgrade(alembic_config(url), "head")
