"""Guessing takes ever longer; nobody else is kept out by it."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta

import argon2
import pytest
from sqlalchemy import Engine, func, select
from sqlalchemy.orm import Session

from models.schema import Throttle
from models.services.people import sign_in, throttle
from models.services.people.throttle import (
    FREE,
    LONGEST_AT_ADDRESS_S,
    LONGEST_S,
    MANY_FOR_NAME,
    MANY_FROM_ADDRESS,
    Guess,
    forget_tries,
    take_try,
    undo_try,
)

BEGAN = datetime(2026, 3, 2, 21, 0, tzinfo=UTC)
OFFICE, TABLET = "198.51.100.7", "tablet one"


class Door:
    """Somebody tries; the clock stands still unless it is moved on."""

    def __init__(self, session: Session) -> None:
        """Begin without any try."""
        self.session, self.now = session, BEGAN

    def wrong(self, name: str, address: str = OFFICE, browser: str = "") -> int:
        """Try a wrong password; return the seconds to wait, 0: it was looked at."""
        guess = Guess(name=name, address=address, browser=browser)
        return take_try(self.session, guess, now=self.now)

    def right(self, name: str, address: str = OFFICE, browser: str = "") -> int:
        """Try the right password."""
        wait = self.wrong(name, address, browser)
        if not wait:
            guess = Guess(name=name, address=address, browser=browser)
            undo_try(self.session, guess)
            forget_tries(self.session, guess)
        return wait

    def pass_s(self, seconds: float) -> None:
        """Let time go by."""
        self.now += timedelta(seconds=seconds)


@pytest.fixture
def door(session: Session) -> Door:
    return Door(session)


def test_one_who_guesses_waits_ever_longer(door: Door) -> None:
    waits = []
    for _ in range(FREE + 10):
        assert door.wrong("tern") == 0
        waits.append(wait := door.wrong("tern"))
        door.pass_s(wait)
        if not wait:  # it was looked at, so it was the next try
            waits.pop()
    longer = [wait for wait in waits if wait]
    assert longer[:8] == [2, 4, 8, 16, 32, 64, 128, 256]
    assert set(longer[8:]) == {LONGEST_S}


def test_who_asks_too_early_does_not_make_it_worse(door: Door) -> None:
    for _ in range(FREE):
        assert door.wrong("tern") == 0
    assert [door.wrong("tern") for _ in range(50)] == [2] * 50
    door.pass_s(2)
    assert door.right("tern") == 0
    assert [door.wrong("tern") for _ in range(FREE)] == [0] * FREE  # begun anew


def test_the_waiting_is_over_after_an_hour_without_a_try(door: Door) -> None:
    for _ in range(FREE + 6):
        door.pass_s(door.wrong("tern"))
    door.pass_s(3601)
    assert [door.wrong("tern") for _ in range(FREE)] == [0] * FREE
    count = select(func.count()).select_from(Throttle)
    assert door.session.scalars(count).one() == 3  # of these tries alone
    door.pass_s(3601)
    assert door.wrong("heron", "203.0.113.5") == 0
    assert door.session.scalars(count).one() == 3


def strangers(count: int) -> Iterator[str]:
    return (f"203.0.{n // 250}.{n % 250 + 1}" for n in range(count))


def test_guessing_one_name_from_many_addresses(door: Door) -> None:
    looked_at = [a for a in strangers(100) if door.wrong("tern", a) == 0]
    assert len(looked_at) == MANY_FOR_NAME
    assert door.right("tern", OFFICE, TABLET) == 0  # a browser that she has used
    assert door.right("plover") == 0  # another name, at a browser nobody knows
    wait = door.wrong("tern")  # her own name at such a browser: slower, not locked
    assert 0 < wait <= LONGEST_S
    door.pass_s(wait)
    for address in strangers(100):
        door.wrong("tern", address)
    assert door.right("tern") == 0


def test_those_who_go_on_from_many_addresses_wait_longer_and_longer(door: Door) -> None:
    looked_at = []
    for _minute in range(15):
        looked_at.append(sum(door.wrong("tern", a) == 0 for a in strangers(50)))
        door.pass_s(60)
    assert looked_at[0] == MANY_FOR_NAME
    assert sum(looked_at) < 15 * 50 / 3


def test_guessing_many_names_from_one_address(door: Door) -> None:
    looked_at = [n for n in range(60) if door.wrong(f"name {n}") == 0]
    assert len(looked_at) == MANY_FROM_ADDRESS
    assert door.right("tern", OFFICE, TABLET) == 0  # of the same office
    assert door.right("plover", "198.51.100.8") == 0  # of another
    wait = door.wrong("plover")  # new in this office
    assert 0 < wait <= LONGEST_AT_ADDRESS_S
    door.pass_s(wait)
    assert door.right("plover") == 0


def test_a_browser_that_is_known_waits_for_its_own_tries(door: Door) -> None:
    for _ in range(FREE):
        assert door.wrong("tern", OFFICE, TABLET) == 0
    assert door.wrong("tern", OFFICE, TABLET) == 2
    assert door.right("tern", OFFICE, "tablet two") == 0
    assert door.right("tern", OFFICE) == 0


def test_what_was_not_looked_at_is_no_guess(door: Door) -> None:
    guess = Guess(name="tern", address=OFFICE)
    for _ in range(3 * MANY_FROM_ADDRESS):
        assert take_try(door.session, guess, now=door.now) == 0
        undo_try(door.session, guess)


def test_nothing_that_was_typed_is_kept(door: Door) -> None:
    for name in ("a password typed as a name", "\0", "\ud800", "x" * 64):
        door.wrong(name)
    rows = door.session.scalars(select(Throttle)).all()
    assert all(len(row.key) == 64 for row in rows)
    assert not any("password" in row.key for row in rows)


def test_of_many_at_once_no_more_go_through(engine: Engine) -> None:
    def try_once(_n: int) -> int:
        with Session(engine) as session:
            wait = take_try(session, Guess(name="tern", address=OFFICE), now=BEGAN)
            session.commit()
        return wait

    with ThreadPoolExecutor(8) as many:
        waits = list(many.map(try_once, range(40)))
    assert sorted(waits) == [0] * FREE + [2] * (40 - FREE)


def test_an_unknown_name_costs_what_a_known_one_does() -> None:
    nobody = argon2.extract_parameters(sign_in._NOBODY)
    somebody = argon2.extract_parameters(argon2.PasswordHasher().hash("x" * 12))
    assert nobody == somebody


def test_the_longest_wait_is_not_above_what_is_said(door: Door) -> None:
    assert max(throttle.wait_s(n) for n in range(2000)) == LONGEST_S
