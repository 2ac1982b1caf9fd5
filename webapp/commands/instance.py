"""What a command works on: the instance folder, its settings, its database."""

from typing import TYPE_CHECKING

from webapp.config import Config, instance_dir, load_config

if TYPE_CHECKING:
    from sqlalchemy.orm import Session


def open_database(config: Config) -> "Session":
    """Open a session for a command."""
    from sqlalchemy.orm import Session  # noqa: PLC0415

    from models.schema.engine import make_engine  # noqa: PLC0415

    return Session(make_engine(config.database), expire_on_commit=False)


def ready_instance() -> Config:
    """Return the settings, with the instance folder in place."""
    instance_dir().mkdir(parents=True, exist_ok=True)
    return load_config()
