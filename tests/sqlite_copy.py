"""A copy of a SQLite database in the place of another."""

import shutil
from pathlib import Path

from sqlalchemy import make_url


def put_copy(old: str, new: str) -> None:
    """Put a copy of the database at *old* where *new* points: nobody is connected.

    Both are SQLAlchemy's addresses.
    """
    source, target = (Path(make_url(url).database or "") for url in (old, new))
    for ending in ("-wal", "-shm"):
        target.with_name(target.name + ending).unlink(missing_ok=True)
    copy = target.with_name(f"{target.name} copy")
    shutil.copyfile(source, copy)
    copy.replace(target)
