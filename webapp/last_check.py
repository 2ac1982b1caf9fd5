"""What `witnessmark check` found last, kept in the instance folder for the pages."""

import json
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path

from webapp.config import instance_dir


@dataclass(frozen=True, slots=True, kw_only=True)
class LastCheck:
    """When the record was checked, how far, and how many faults there were."""

    at: str  # RFC 3339
    entries: int
    head: str
    faults: int
    with_files: bool

    @property
    def when(self) -> datetime:
        """The time of the check."""
        return datetime.fromisoformat(self.at)


def keep_last_check(found: LastCheck) -> None:
    """Write it down; OSError where the folder cannot be written to."""
    _path().write_text(json.dumps(asdict(found)), "utf-8")


def last_check() -> LastCheck | None:
    """Return the last check; None where there was none, or it cannot be read."""
    try:
        found = LastCheck(**json.loads(_path().read_text("utf-8")))
        return found if found.when.tzinfo else None
    except (OSError, ValueError, TypeError):
        return None


def _path() -> Path:
    return instance_dir() / "last-check.json"
