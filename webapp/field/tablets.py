"""Which tablets of a site asked for news, when, and up to which act they know.

Kept in memory: it says who has heard of a stop while they are at work, and nothing of
it is a record.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from threading import Lock
from typing import Any
from uuid import UUID

from models.services.keeping.log import stamp

KEPT = timedelta(hours=24)
LONGEST_NAME = 80  # characters of a tablet's name
MOST = 200  # tablets of a site


@dataclass(frozen=True, slots=True)
class Heard:
    """A tablet's last call."""

    by: str
    at: datetime
    seq: int


class Tablets:
    """The tablets of every site since the server began."""

    def __init__(self) -> None:
        """Know of none."""
        self._sites: dict[UUID, dict[str, Heard]] = {}
        self._lock = Lock()

    def heard(self, site: UUID, device: str, by: str, seq: int, now: datetime) -> None:
        """Take note of a call."""
        with self._lock:
            tablets = self._sites.setdefault(site, {})
            if device:
                tablets[device[:LONGEST_NAME]] = Heard(by, now, seq)
            kept = [
                (name, one) for name, one in tablets.items() if one.at >= now - KEPT
            ]
            kept.sort(key=lambda named: named[1].at, reverse=True)
            self._sites[site] = dict(kept[:MOST])

    def of(self, site: UUID) -> list[dict[str, Any]]:
        """Return the tablets of a site in the last 24 hours, the latest call first."""
        with self._lock:
            found = list(self._sites.get(site, {}).items())
        return [
            {"device": name, "by": one.by, "heard": stamp(one.at), "seq": one.seq}
            for name, one in found
        ]
