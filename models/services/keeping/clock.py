"""The server's clock against the record: an entry is never before the one before it."""

from datetime import datetime, timedelta

from models.errors import ConflictError
from models.signing.validity import time_words

# What requests that wait for each other, and a clock that is set by the network,
# may be apart; more than that is a clock that stands wrong.
SLACK = timedelta(minutes=5)


class ClockBehindError(ConflictError):
    """The server's clock is behind the record: one of the two times is wrong."""

    def __init__(self, now: datetime, last: datetime) -> None:
        super().__init__(
            f"The server's clock says {time_words(now)}, and the record's last entry "
            f"was made on {time_words(last)}: nothing was stored. Whoever runs the "
            "server puts its clock right; then do this again. If it was the earlier "
            "clock that ran ahead, `witnessmark put-clock-back` says so in the log."
        )


def in_order(now: datetime, last: datetime) -> datetime:
    """Return the time of the entry after one of *last*; ClockBehindError."""
    if now < last - SLACK:
        raise ClockBehindError(now, last)
    return max(now, last)
