"""What is kept of tablets and cannot be so is found."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import text
from sqlalchemy.orm import Session

from models.services.keeping.check_record import check_record
from models.services.keeping.log import put_clock_back
from models.services.tablets.decide import release_round, revoke_or_admit
from models.services.tablets.held_rounds import give_back, take_along, tell
from models.services.tablets.hello import hello
from tests.cases import first_on_both
from tests.models.services.keeping.tampering import without_triggers
from tests.scenario import LEAD, TECHNICIAN, Work

TABLET = UUID(int=7)
EARLIER = "'2001-01-01 00:00:00'"
LATER = "'2101-01-01 00:00:00'"


@pytest.fixture
def held(session_at: Callable[[str], Session]) -> Work:
    """A round that a tablet holds and was released from, and has given back since.

    Then the tablet was revoked, admitted and opened by another person.
    """
    work = Work.resume(session_at("opened"))
    begin_at(work, 0, TECHNICIAN.id)
    holding(work, take_along, 1)
    holding(work, tell, 2, entries=3)
    release_round(work.session, round_id=work.round_id, **by_lead(work, "Dropped.", 3))
    holding(work, take_along, 4)
    holding(work, tell, 5, entries=0)
    holding(work, give_back, 6)
    for minutes, act in ((10, "revoke"), (20, "admit")):
        revoke_or_admit(work.session, act=act, **by_lead(work, "Lost.", minutes))
    begin_at(work, 30, LEAD.id)
    work.session.flush()
    return work


def begin_at(work: Work, minutes: int, person_id: UUID) -> None:
    said = {"tablet": TABLET, "label": "tablet 7f3a"}
    moment = work.at + timedelta(minutes=minutes)
    hello(work.session, person_id=person_id, said=said, now=moment, new_share=bytes(32))


def holding(work: Work, act: Callable[..., None], minutes: int, **said: int) -> None:
    act(
        work.session,
        person_id=TECHNICIAN.id,
        round_id=work.round_id,
        said={"tablet": TABLET, **said},
        now=work.at + timedelta(minutes=minutes),
    )


def by_lead(work: Work, reason: str, minutes: int) -> dict[str, Any]:
    now = work.at + timedelta(minutes=minutes)
    return {
        "person_id": LEAD.id,
        "tablet_id": TABLET,
        "reason": reason,
        "act_id": uuid4(),
        "now": now,
    }


# What somebody did by plain SQL -> words of a fault that is found.
DAMAGES = {
    "the reason of a decision": (
        "UPDATE tablet_act SET reason = 'Found.' WHERE act = 'revoke'",
        "differs from the log",
    ),
    "what was decided": (
        "UPDATE tablet_act SET act = 'admit' WHERE act = 'revoke'",
        "differs from the log",
    ),
    "who decided": (
        f"UPDATE tablet_act SET by_id = (SELECT id FROM person WHERE name = "
        f"'{TECHNICIAN.name}') WHERE act = 'admit'",
        "differs from the log",
    ),
    "when it was decided": (
        f"UPDATE tablet_act SET at = {EARLIER} WHERE act = 'release'",
        "has another time than the log",
    ),
    "when, to later": (
        f"UPDATE tablet_act SET at = {LATER} WHERE act = 'release'",
        "has another time than the log",
    ),
    "a decision taken out": (
        "DELETE FROM tablet_act WHERE act = 'revoke'",
        "of the log is gone",
    ),
    "its entry": (
        "DELETE FROM log_entry WHERE action = 'admit tablet'",
        "is not in the log",
    ),
    "its entry's body": (
        "UPDATE log_entry SET body = '[]' WHERE action = 'admit tablet'",
        "is not in the log",
    ),
    "the round that a tablet took along": (
        "DELETE FROM tablet_round",
        "and nobody took it along there",
    ),
    "unsent, though given back": (
        "UPDATE tablet_round SET photos = 2",
        "was given back with 2 unsent",
    ),
    "given back, though unsent": (
        f"UPDATE tablet_round SET entries = 1, given_back_at = {LATER}",
        "was given back with 1 unsent",
    ),
    "less than none": (
        "UPDATE tablet_round SET intents = -1",
        "has -1 intents unsent",
    ),
    "more than fits": (
        "UPDATE tablet_round SET entries = 1000001",
        "has 1000001 entries unsent",
    ),
    "taken along after it was given back": (
        f"UPDATE tablet_round SET taken_at = {LATER}",
        "was given back before it was taken along",
    ),
    "the first call after the last": (
        f"UPDATE tablet SET first_at = {LATER}",
        "called last before it called first",
    ),
    "part of a share": (
        "UPDATE tablet_share SET share = substr(share, 1, 16)",
        "is not 32 bytes long",
    ),
    "every share": ("DELETE FROM tablet_share", "has no share left"),
    "a share given while it was revoked": (
        "DELETE FROM tablet_act WHERE act = 'admit'",
        "was made while the tablet was revoked",
    ),
}


@pytest.mark.parametrize(("statement", "words"), first_on_both(DAMAGES))
def test_a_damage_is_found(held: Work, statement: str, words: str) -> None:
    without_triggers(held.session, "tablet_act", "log_entry")
    held.session.execute(text(statement))
    held.session.expire_all()
    found = check_record(held.session).faults
    assert any(words in fault for fault in found), found


def test_what_was_not_touched_has_no_fault(held: Work) -> None:
    assert check_record(held.session).faults == []


def test_times_tell_nothing_once_a_clock_was_put_back(held: Work) -> None:
    """Else a clock that ran ahead would leave a fault for ever."""
    held.session.execute(text(f"UPDATE tablet SET first_at = {LATER}"))
    now = held.at + timedelta(minutes=40)
    put_clock_back(held.session, reason="It ran ahead.", now=now)
    held.session.expire_all()
    assert check_record(held.session).faults == []
