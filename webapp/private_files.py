"""The instance's files are for the account that runs the program, and nobody else.

Who reads the database reads every record and every wrapped key; who reads the
secret forges sessions. Other people of the same machine get neither.
"""

import logging
import stat
from pathlib import Path

from webapp.config import instance_dir

LOG = logging.getLogger(__name__)
EVERYBODY = stat.S_IRWXO
OTHERS = stat.S_IRWXG | stat.S_IRWXO
BESIDE = ("", "-wal", "-shm", "-journal")  # SQLite's files; new ones follow the first


def keep_private(database: str) -> None:
    """Close the files of the instance to others; say of each that was open to all.

    What its owner opened to a group alone, for backups, stays so. A SQLite file that
    is not there yet is made, since SQLite would make it as the account's habits are.
    """
    folder = instance_dir()
    path = sqlite_path(database)
    if path is not None and path.parent.is_dir():
        path.touch(mode=0o600, exist_ok=True)
    files = [Path(f"{path}{suffix}") for suffix in BESIDE] if path else []
    for one in (folder, folder / "secret", *files):
        if one.exists():
            _close(one)


def sqlite_path(database: str) -> Path | None:
    """Return the file of a SQLite address; None for any other database."""
    from sqlalchemy import make_url  # noqa: PLC0415

    url = make_url(database)
    if url.get_backend_name() != "sqlite" or url.database in (None, "", ":memory:"):
        return None
    return Path(str(url.database))


def _close(path: Path) -> None:
    mode = stat.S_IMODE(path.stat().st_mode)
    shared_folder = mode & stat.S_ISVTX  # such as /tmp: not this program's own
    if not mode & EVERYBODY or shared_folder:
        return
    try:
        path.chmod(mode & ~OTHERS)
    except OSError as error:
        LOG.warning(
            "%s can be read by other accounts of this machine, and that cannot be "
            "changed (%s): have its owner close it to others.",
            path,
            error.strerror,
        )
        return
    LOG.warning(
        "%s could be read by other accounts of this machine (mode %o): closed to them.",
        path,
        mode,
    )
