"""One act after the other, whatever the clock says."""

from collections.abc import Iterable
from datetime import datetime, timedelta

SHORTEST = timedelta(microseconds=1)  # what both databases can tell apart


def following(now: datetime, earlier: Iterable[datetime]) -> datetime:
    """Return *now*, or the moment after the last of *earlier* where that is later.

    Which signature or decision holds is told by its time. A clock that was put
    back, or a request that waited for another, must not turn the order round.
    """
    return max([now, *(at + SHORTEST for at in earlier)])
