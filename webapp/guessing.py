"""Count every try at a password or a code, wherever one is typed.

    with counted_try(name_of_person):
        ...check the password, do what it is for, commit()

A wrong password stays counted; whatever else comes of it is taken back. The count
is a transaction of its own: the request's is undone when something is wrong.
"""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from ipaddress import IPv6Address, ip_address
from typing import TypeVar

from flask import Flask, Response, current_app, g, request
from sqlalchemy.orm import Session

from models.errors import WitnessmarkError, WrongPasswordError
from models.services.people.sign_in import SignInRefusedError, name_asked_for
from models.services.people.throttle import (
    Guess,
    TooManyTriesError,
    forget_tries,
    take_try,
    undo_try,
)
from webapp.clock import now
from webapp.config import Config
from webapp.db import close, commit, write_session
from webapp.known_browser import (
    browser_of,
    known_id,
    remember,
    send_remembered,
)

Done = TypeVar("Done")
WRONG = (SignInRefusedError, WrongPasswordError)


def init_guessing(app: Flask) -> None:
    """Say with the answer how long to wait, and what the browser is known for."""

    @app.after_request
    def add(response: Response) -> Response:
        if wait := g.pop("wait_s", 0):
            response.status_code = 429
            response.headers["Retry-After"] = str(wait)
        send_remembered(response)
        return response


@contextmanager
def counted_try(sign_in: str, *, field: str = "password") -> Iterator[None]:
    """Count a try at somebody's password; *field* is where it is typed.

    Raises TooManyTriesError. What the block does is committed in it.
    """
    with _counted(_guess_at(name_asked_for(sign_in)), field, WRONG):
        yield


def counted_try_if_typed(
    sign_in: str, password: str | None
) -> AbstractContextManager[None]:
    """Count a try where a password is typed that is not always asked for."""
    return counted_try(sign_in) if password else nullcontext()


@contextmanager
def counted_code(
    what: str, *wrong: type[WitnessmarkError], field: str = "code"
) -> Iterator[None]:
    """Count a try at a code; *wrong*: what is raised where it is not the right one."""
    with _counted(_guess_at(f"code of {what}"), field, wrong):
        yield


def counted_press(what: str, *, field: str) -> None:
    """Count something that is done without signing in, and is no guess.

    It stays counted, and is throttled as passwords are. Raises TooManyTriesError.
    """
    guess = Guess(name=what, address=asking_address(), browser=known_id())
    if wait := _in_own_transaction(lambda rows: take_try(rows, guess, now=now())):
        g.wait_s = wait
        raise TooManyTriesError(wait, field)


def signed_in_well(sign_in: str) -> None:
    """Forget the tries at this name from here, and know the browser from now on."""
    name = name_asked_for(sign_in)
    guess = _guess_at(name)
    _in_own_transaction(lambda session: forget_tries(session, guess))
    remember(name)


def asking_address() -> str:
    """Return the address that a request is counted under.

    It is that of the connection. `X-Forwarded-For` counts only where the connection
    comes from the proxy that the settings name, and there its last entry, which that
    proxy wrote. Of an IPv6 address it is the network of 64 bits: one subscriber has
    as many addresses in it as they like.
    """
    config: Config = current_app.extensions["witnessmark"]
    address = request.remote_addr or ""
    if address and address == config.proxy:
        sent = request.headers.get("X-Forwarded-For", "")
        address = sent.rpartition(",")[2].strip() or address
    return _network(address)


def _network(address: str) -> str:
    try:
        found = ip_address(address)
    except ValueError:
        return address
    if isinstance(found, IPv6Address) and found.ipv4_mapped is None:
        return found.exploded[:19]  # eight bytes, with their colons
    return str(getattr(found, "ipv4_mapped", None) or found)


def _guess_at(name: str) -> Guess:
    return Guess(name=name, address=asking_address(), browser=browser_of(name))


@contextmanager
def _counted(
    guess: Guess, field: str, wrong: tuple[type[WitnessmarkError], ...]
) -> Iterator[None]:
    wait = _in_own_transaction(lambda session: take_try(session, guess, now=now()))
    if wait:
        g.wait_s = wait
        raise TooManyTriesError(wait, field)
    try:
        yield
    except WitnessmarkError as error:
        if not isinstance(error, wrong) and not isinstance(error.__cause__, wrong):
            _in_own_transaction(lambda session: undo_try(session, guess))
        raise
    _in_own_transaction(lambda session: undo_try(session, guess))


def _in_own_transaction(act: Callable[[Session], Done]) -> Done:
    close()
    done = act(write_session())
    commit()
    close()
    return done
