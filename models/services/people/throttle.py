"""Let guessing at a password or a code take ever longer, and keep nobody else out.

A try is counted before it is answered, in a transaction of its own, so that many at
once do not slip through. What makes somebody wait is a row of their own: of the
browser, where it has signed in under that name before, else of the name at that
address. Tries under the name from anywhere, and under any name from the address, make
those wait longer who are not known; a known browser never waits for others.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from hashlib import sha256
from math import ceil
from typing import Any

from sqlalchemy import ColumnElement, case, delete, literal, select, update
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Session

from models.errors import Fault, InputError
from models.schema import Throttle
from models.schema.base import UTCDateTime

FREE = 5  # tries before the first wait
LONGEST_S = 300
OWN_SPAN = timedelta(hours=1)  # since the last try
WIDE_SPAN = timedelta(minutes=15)  # since the first one
MANY_FOR_NAME = 20
MANY_FROM_ADDRESS = 30
LONGEST_AT_ADDRESS_S = 60  # it may be that of a whole site office


class TooManyTriesError(InputError):
    """It is too early for another try; *seconds* says how long to wait."""

    def __init__(self, seconds: int, field: str = "password") -> None:
        unit = "second" if seconds == 1 else "seconds"
        message = f"Too many tries: wait {seconds} {unit}, then try again."
        super().__init__(Fault(field=field, message=message))
        self.seconds = seconds


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """What is tried, from where.

    *browser* is '' unless the browser is known to have given the right answer to the
    same question before.
    """

    name: str
    address: str
    browser: str = ""

    @property
    def own(self) -> str:
        """The key of the row that this try waits for."""
        if self.browser:
            return _key("browser", self.browser, self.name)
        return _key("here", self.address, self.name)

    @property
    def wide(self) -> tuple[str, ...]:
        """The keys under which it is counted with others': by name, by address."""
        if self.browser:
            return ()
        return _key("name", self.name), _key("address", self.address)


def take_try(session: Session, guess: Guess, *, now: datetime) -> int:
    """Count a try that is answered next, and return 0; else the seconds to wait.

    The caller commits before answering, whatever comes of it.
    """
    session.execute(delete(Throttle).where(Throttle.ends <= now))
    counted = [_count(session, key, now) for key in guess.wide]
    longer = _wait_with_others(*counted) if counted else 0
    if _own_try(session, guess.own, longer, now):
        return 0
    undo_try(session, guess, own=False)
    free_at = session.scalars(
        select(Throttle.free_at).where(Throttle.key == guess.own)
    ).one()
    return max(1, ceil((free_at - now).total_seconds()))


def undo_try(session: Session, guess: Guess, *, own: bool = True) -> None:
    """Take a try back that was no guess: the answer was right, or was not looked at."""
    keys = (*guess.wide, guess.own) if own else guess.wide
    session.execute(
        update(Throttle)
        .where(Throttle.key.in_(keys), Throttle.tries > 0)
        .values(tries=Throttle.tries - 1)
    )


def forget_tries(session: Session, guess: Guess) -> None:
    """Forget this name's tries from here: its password was given."""
    session.execute(delete(Throttle).where(Throttle.key == guess.own))


def wait_s(tries: int) -> int:
    """Return the seconds to wait after so many tries: 2, 4, 8 ... up to the longest."""
    if tries < FREE:
        return 0
    return int(min(2.0 ** min(tries - FREE + 1, 30), LONGEST_S))


def _wait_with_others(under_name: int, from_address: int) -> int:
    """Return the seconds that somebody unknown waits since others guess too."""
    by_name = _crowd_wait_s(under_name - MANY_FOR_NAME, LONGEST_S)
    by_address = _crowd_wait_s(from_address - MANY_FROM_ADDRESS, LONGEST_AT_ADDRESS_S)
    return max(by_name, by_address)


def _crowd_wait_s(above: int, longest: int) -> int:
    return int(min(5 * 2.0 ** min(above // 10, 30), longest)) if above > 0 else 0


def _own_try(session: Session, key: str, longer: int, now: datetime) -> int:
    """Return the number of this try; 0 where it is too early for one.

    Looking and counting are one statement, so that of many at once one goes through.
    """
    first = {"tries": 0 if longer else 1, "free_at": now + timedelta(seconds=longer)}
    added = _insert(session).values(key=key, ends=now + OWN_SPAN, **first)
    counted = added.on_conflict_do_update(
        index_elements=["key"],
        set_={
            "tries": Throttle.tries + 1,
            "free_at": _free_again(now, longer),
            "ends": _time(now + OWN_SPAN),
        },
        where=Throttle.free_at <= now,
    )
    number: int | None = session.scalars(counted.returning(Throttle.tries)).first()
    return number or 0


def _free_again(now: datetime, longer: int) -> ColumnElement[datetime]:
    """Return when the next try is free, by the number of this one."""
    waits = dict(_growing())
    longest = _time(now + timedelta(seconds=LONGEST_S))
    return case(
        *(
            (
                Throttle.tries + 1 == tries,
                _time(now + timedelta(seconds=max(s, longer))),
            )
            for tries, s in waits.items()
        ),
        else_=longest,
    )


def _growing() -> Iterator[tuple[int, int]]:
    tries = 1
    while (seconds := wait_s(tries)) < LONGEST_S:
        yield tries, seconds
        tries += 1


def _count(session: Session, key: str, now: datetime) -> int:
    """Count one more under a key that is shared; return the number."""
    live = Throttle.ends > now
    ends = now + WIDE_SPAN
    counted = (
        _insert(session)
        .values(key=key, tries=1, free_at=now, ends=ends)
        .on_conflict_do_update(
            index_elements=["key"],
            set_={
                "tries": case((live, Throttle.tries + 1), else_=1),
                "ends": case((live, Throttle.ends), else_=_time(ends)),
            },
        )
    )
    number: int = session.scalars(counted.returning(Throttle.tries)).one()
    return number


def _insert(session: Session) -> Any:
    """Return the database's own insert, which can turn into an update."""
    postgres = session.get_bind().dialect.name == "postgresql"
    return (postgresql if postgres else sqlite).insert(Throttle)


def _time(at: datetime) -> ColumnElement[datetime]:
    return literal(at, UTCDateTime())


def _key(*parts: str) -> str:
    written = "\0".join(parts).encode("utf-8", "surrogatepass")
    return sha256(written).hexdigest()
