"""The server's clock against the record: no act is before the last one."""

from collections.abc import Callable
from datetime import timedelta

import pytest
from sqlalchemy import func, select

from models.errors import InputError
from models.schema import LogEntry
from models.services.keeping.check_record import check_record
from models.services.keeping.clock import SLACK, ClockBehindError
from models.services.keeping.log import put_clock_back
from models.signing.validity import CertificateTimeError
from tests.scenario import BEGAN, CR, IR, LEAD, TECHNICIAN, Work

READY = ("breaker 52", CR)
DAY = timedelta(days=1)


def entries(work: Work) -> int:
    return work.session.scalars(select(func.count()).select_from(LogEntry)).one()


def note(work: Work) -> None:
    work.store(work.entry(work.card("bus", IR), "note", text="rain"))


ACTS: dict[str, Callable[[Work], object]] = {
    "an entry of a tablet": note,
    "a card signed": lambda work: work.sign(READY),
    "a card withdrawn": lambda work: work.withdraw("bus", IR),
}


@pytest.fixture
def ready(confirmed: Work) -> Work:
    """A round with a card that only wants its signature."""
    confirmed.read(*READY, "38.6", "39.4", "40.2")
    confirmed.confirm(*READY, after=True)
    return confirmed


@pytest.mark.parametrize("act", ACTS.values(), ids=ACTS)
def test_an_act_before_the_last_entry_is_refused(
    ready: Work, act: Callable[[Work], object]
) -> None:
    last, before = ready.at, entries(ready)
    ready.at -= DAY
    with pytest.raises(ClockBehindError) as refused:
        act(ready)
    said = str(refused.value)
    assert f"{last:%B %Y, %H:%M} UTC" in said and "nothing was stored" in said
    assert "put-clock-back" in said
    assert entries(ready) == before


def test_a_round_is_not_approved_before_it_was_signed(complete: Work) -> None:
    complete.seal(TECHNICIAN, "performed")
    complete.at -= DAY
    with pytest.raises(ClockBehindError):
        complete.seal(LEAD, "approved")


def test_a_package_is_not_accepted_before_it_was_approved(complete: Work) -> None:
    complete.turn_over(accept=False)
    complete.at -= DAY
    with pytest.raises(ClockBehindError):
        complete.accept()


def test_requests_that_waited_are_entered_in_the_order_of_the_log(ready: Work) -> None:
    """A request takes its time, then waits: that is no clock that stands wrong."""
    last = ready.at
    ready.at = last - SLACK
    note(ready)
    newest = ready.session.scalars(
        select(LogEntry).order_by(LogEntry.seq.desc()).limit(1)
    ).one()
    assert newest.at == last


def test_a_clock_that_ran_ahead_is_put_back_with_a_reason(ready: Work) -> None:
    ahead = ready.at
    ready.at -= DAY
    with pytest.raises(InputError, match="why the clock ran ahead"):
        put_clock_back(ready.session, reason=" ", now=ready.at)
    assert put_clock_back(ready.session, reason="wrong year", now=ready.at) == ahead
    note(ready)
    ready.sign(READY)
    assert check_record(ready.session).faults == []


def test_nothing_is_signed_before_the_certificate_begins(ready: Work) -> None:
    """Even where the log says that the clock was put back so far."""
    ready.at = BEGAN - 400 * DAY
    put_clock_back(ready.session, reason="the battery was flat", now=ready.at)
    before = entries(ready)
    with pytest.raises(CertificateTimeError, match="could never be verified"):
        ready.sign(READY)
    assert entries(ready) == before
