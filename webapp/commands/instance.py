"""What a command works on: the instance folder, its settings, its database."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from webapp.config import Config, instance_dir, load_config
from webapp.private_files import keep_private

if TYPE_CHECKING:
    from sqlalchemy.orm import Session


@contextmanager
def open_database(config: Config, *, reading: bool = False) -> Iterator["Session"]:
    """Give a command its session.

    *reading*: the session sees one state of the database, and stops nobody.
    """
    from sqlalchemy.orm import Session  # noqa: PLC0415

    from models.schema.engine import make_engine, snapshot  # noqa: PLC0415

    keep_private(config.database)
    engine = make_engine(config.database)
    bound = snapshot(engine) if reading else engine
    try:
        with Session(bound, expire_on_commit=False) as session:
            yield session
    finally:
        engine.dispose()


def ready_instance() -> Config:
    """Return the settings, with the instance folder and its files in place."""
    instance_dir().mkdir(mode=0o700, parents=True, exist_ok=True)
    config = load_config()
    keep_private(config.database)
    return config
