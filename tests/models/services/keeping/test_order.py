"""A clock that is put back turns no decision round."""

from datetime import timedelta

import pytest

from models.services.keeping.clock import SLACK
from models.services.keeping.log import put_clock_back
from tests.scenario import CR, LEAD, Work

READY = ("breaker 52", CR)

# The time between one act and the next, as a clock may tell it.
CLOCKS = {
    "put back by a day": timedelta(days=-1),
    "put back by a second": timedelta(seconds=-1),
    "standing still": timedelta(0),
    "going on": timedelta(minutes=3),
}


def move(work: Work, step: timedelta) -> None:
    """Let the next act come after *step*; what is more than slack is said first."""
    # The scenario's acts move on by three minutes: begin before that.
    work.at += step - timedelta(minutes=3)
    if step < -SLACK:
        put_clock_back(work.session, reason="the battery was flat", now=work.at)


@pytest.mark.parametrize("step", CLOCKS.values(), ids=CLOCKS)
def test_the_last_act_holds(confirmed: Work, step: timedelta) -> None:
    def clock() -> None:
        move(confirmed, step)

    confirmed.read(*READY, "38.6", "39.4", "72.0")
    confirmed.confirm(*READY, after=True)
    states = []
    confirmed.sign(READY)
    for _ in range(2):
        states.append(confirmed.facts(*READY).state)
        clock()
        confirmed.give_back(*READY)
        states.append(confirmed.facts(*READY).state)
        clock()
        confirmed.sign(READY)
    states.append(confirmed.facts(*READY).state)
    assert states == ["signed", "returned"] * 2 + ["signed"]


@pytest.mark.parametrize("step", CLOCKS.values(), ids=CLOCKS)
def test_the_last_decision_holds(confirmed: Work, step: timedelta) -> None:
    *_, outside = confirmed.read(*READY, "38.6", "39.4", "72.0")
    said = []
    for decision in ("use_as_is", "reject", "accept_with_limits", "reject"):
        confirmed.dispose(outside, decision, by=LEAD)
        move(confirmed, step)
        facts = confirmed.facts(*READY)
        reading = next(r for r in facts.current if r.id == outside)
        holding = facts.disposition_of(reading)
        assert holding is not None
        said.append(holding.decision)
    assert said == ["use_as_is", "reject", "accept_with_limits", "reject"]
