"""Acts of safety as they arrive: read strictly, kept once, logged together."""

import json
from typing import Any
from uuid import uuid4

import pytest
from sqlalchemy import func, select

from models.errors import ForbiddenError
from models.schema import LogEntry, Round, SafetyAct
from models.services.field.refusal import NOT_TAKEN
from models.services.field.round_document import round_document
from models.services.keeping.check_record import check_record
from models.services.safety.act_members import ACTS
from models.services.safety.document import safety_news
from models.services.safety.keep_acts import keep_act
from models.services.safety.round_safety import safety_of_round
from tests.models.services.keeping.tampering import change, without_triggers
from tests.models.services.safety.acting import CELL, Act, Acting, one_of_each
from tests.scenario import LEAD, SECOND, TECHNICIAN, Work

Change = dict[str, Any]


@pytest.fixture
def acting(opened: Work) -> Acting:
    return Acting(opened)


def stored(acting: Acting) -> int:
    asked = select(func.count()).select_from(SafetyAct)
    return acting.work.session.scalar(asked) or 0


def test_each_kind_is_kept_and_read_back_as_it_was_sent(acting: Acting) -> None:
    acts = one_of_each(acting)
    assert {one["act"] for one in acts} == set(ACTS)
    assert acting.keep(*acts) == ["stored"] * len(acts)
    work = acting.work
    document = round_document(
        work.session, person_id=TECHNICIAN.id, round_id=work.round_id, now=work.at
    )["safety"]
    assert document["cursor"] == len(acts)
    shown = {one["id"]: one for one in document["acts"]}
    for act in acts:
        got: Any = shown[act["key"]]
        own = {k: v for k, v in act.items() if k not in ("kind", "key", "at")}
        times = {k: got[k] for k in own if k == "planned_end"}
        assert {k: got.get(k) for k in own} == own | times
        assert got["by"] == {"id": str(TECHNICIAN.id), "name": TECHNICIAN.name}
        assert got["arrived_at"] == got["at"]


def test_acts_of_one_call_are_one_entry_of_the_log(acting: Acting) -> None:
    acting.keep(*one_of_each(acting))
    session = acting.work.session
    acting.work.tick()
    acting.store(acting.act("stop", stop=str(uuid4())), by=SECOND)
    bodies = [
        json.loads(one.body)
        for one in session.scalars(select(LogEntry).where(LogEntry.action == "safety"))
    ]
    assert [(one["first"], one["last"]) for one in bodies] == [(1, 20), (21, 21)]
    assert check_record(session).faults == []


def test_sent_twice_is_known_and_other_content_a_conflict(acting: Acting) -> None:
    acts = one_of_each(acting)
    acting.keep(*acts)
    acting.work.tick(hours=2)
    assert {a["status"] for a in acting.send(*acts)} == {"known"}
    changed: list[Act] = [
        acts[4] | {"noted": {"employer": "another"}},
        acts[4] | {"code": "G02a"},
        acts[4] | {"at": "2026-03-02T20:00:00+00:00"},
        acts[8] | {"person": None},
        acting.act("leave", cell=CELL, key=acts[0]["key"]),
    ]
    for act in changed:
        (answer,) = acting.send(act)
        assert answer["status"] == "conflict", act
        assert "with other content" in answer["faults"][0]["message"]
    (answer,) = acting.send(acts[4], by=SECOND)
    assert answer["status"] == "conflict"
    assert stored(acting) == len(acts)


def test_a_clock_ahead_is_set_to_the_arrival_and_known_again(acting: Acting) -> None:
    act = acting.open_crew(at="2026-03-02T22:30:00+00:00")
    acting.store(act)
    acting.work.tick()
    assert acting.send(act)[0]["status"] == "known"
    row = acting.work.session.scalars(select(SafetyAct)).one()
    assert row.at == row.arrived_at


# What is changed -> the fields that are said to be wrong.
WRONG: dict[str, tuple[str, Change, list[str]]] = {
    "no such act": ("open_crew", {"act": "begin"}, ["act"]),
    "no act": ("open_crew", {"act": None}, ["act"]),
    "a member too many": ("open_crew", {"cell": CELL}, ["cell"]),
    "several at once": (
        "open_crew",
        {"crew": "x", "lineups": [], "planned_end": "noon"},
        ["crew", "lineups", "planned_end"],
    ),
    "another site's lineup": ("open_crew", {"lineups": [str(uuid4())]}, ["lineups"]),
    "no such section": ("open_isolation", {"section": "bus Z"}, ["section"]),
    "no clearance": ("open_isolation", {"clearance": " "}, ["clearance"]),
    "a scope that there is not": ("line", {"scope": "bay"}, ["scope"]),
    "not applicable without a reason": (
        "line",
        {"state": "not_applicable"},
        ["reason"],
    ),
    "a crew that nobody opened": ("line", {"of": str(uuid4())}, ["of"]),
    "too long a text": ("line", {"noted": {"a": "x" * 4001}}, ["noted.a"]),
    "a number without end": ("line", {"noted": {"a": float("inf")}}, ["noted.a"]),
    "a thing in a thing": ("line", {"noted": {"a": {"b": 1}}}, ["noted.a"]),
    "no field": ("line", {"noted": ["a"]}, ["noted"]),
    "a person without a name": ("line", {"person": {"id": None}}, ["person.name"]),
    "a person that there is not": (
        "line",
        {"person": {"id": str(uuid4()), "name": "N"}},
        ["person"],
    ),
    "a cursor that is none": ("line", {"heard_at": "9"}, ["heard_at"]),
    "a register that there is not": ("list", {"register": "lamp"}, ["register"]),
    "a cell of nowhere": ("enter", {"cell": str(uuid4())}, ["cell"]),
    "hours of dc": ("dc_off", {"dc_s": 1e9}, ["dc_s"]),
    "no dc": ("dc_off", {"dc_s": "60"}, ["dc_s"]),
    "a release without reasons": (
        "release",
        {"reason": "", "put_right": None, "agrees": 1},
        ["reason", "put_right", "agrees"],
    ),
    "no names": ("override", {"names": "Ida"}, ["names"]),
    "a text that cannot be kept": ("hand_back", {"to": "a\0b"}, ["", "to"]),
}


def test_what_is_wrong_is_said_by_field_and_nothing_is_kept(acting: Acting) -> None:
    acts = one_of_each(acting)
    first = {one["act"]: one for one in reversed(acts)}
    acting.keep(acts[0], acts[2], acts[17])  # the crew, the clearance, the stop
    for case, (kind, changed, fields) in WRONG.items():
        new = {"key": str(uuid4())}
        if kind.startswith("open_"):
            new[kind.removeprefix("open_")] = str(uuid4())
        act = first[kind] | new | changed
        (answer,) = acting.send(act)
        assert answer["status"] == "refused", case
        assert [f["field"] for f in answer["faults"]] == fields, case
        assert all(f["message"] for f in answer["faults"])
    assert stored(acting) == 3


JUNK: list[Any] = [None, 1, -1.5, "x", "", [], ["x"], {}, {"x": {"y": [1]}}, True]
JUNK += [CELL, {"id": None, "name": "N"}, [{"id": CELL, "name": "N"}], 10**400]
JUNK += ["9999-12-31T23:59:59+00:00", "1970-01-01T00:00:00+14:00", "\ud800"]


def test_whatever_a_member_holds_nothing_breaks(acting: Acting) -> None:
    """It is stored or refused with a sentence, and what stands can still be told."""
    acts = one_of_each(acting)
    acting.keep(*acts)
    sent = [
        act | {"key": str(uuid4()), member: junk}
        for act in acts
        for member in (*act, "person", "heard_at")
        if member not in ("kind", "key")
        for junk in JUNK
    ]
    answers = acting.send(*sent)
    for act, answer in zip(sent, answers, strict=True):
        assert answer["status"] in ("stored", "refused", "conflict"), act
        assert NOT_TAKEN not in [one["message"] for one in answer["faults"]], act
        assert (answer["status"] == "stored") == (answer["faults"] == []), act
    work = acting.work
    round_ = work.session.get_one(Round, work.round_id)
    found = safety_of_round(work.session, round_, now=work.at)
    assert found.safety.site(found.at)["stop"] is None or stored(acting) > len(acts)
    assert check_record(work.session).faults == []


def test_what_is_open_is_not_opened_again(acting: Acting) -> None:
    acting.store(acting.open_crew())
    (answer,) = acting.send(acting.open_crew())
    assert answer["status"] == "conflict"


def test_a_stop_that_one_disputes_is_the_leads_to_release(acting: Acting) -> None:
    *_, stop, release, _ = one_of_each(acting)
    disputed = release | {"agrees": False}
    acting.store(stop)
    assert acting.send(disputed)[0]["status"] == "conflict"
    acting.store(disputed, by=LEAD)


def test_at_the_desk_and_signed_out_one_can_stop(acting: Acting) -> None:
    work = acting.work
    site = work.session.get_one(Round, work.round_id).lineup.site
    stop = acting.act("stop", stop=str(uuid4()))
    given: dict[str, Any] = {"site": site, "by": None, "device": "d", "now": work.at}
    assert keep_act(work.session, act=stop, **given) == "stored"
    with pytest.raises(ForbiddenError, match="Sign in first"):
        keep_act(work.session, act=acting.open_crew(), **given)
    news = safety_news(
        work.session,
        person_id=TECHNICIAN.id,
        round_id=work.round_id,
        since=0,
        now=work.at,
    )
    assert news["cursor"] == 1
    by = {"id": None, "name": "not signed in, at a known browser"}
    assert [one["by"] for one in news["acts"]] == [by]


def test_news_are_what_came_after_the_cursor(acting: Acting) -> None:
    acts = one_of_each(acting)
    acting.keep(*acts)
    work = acting.work
    asked: dict[str, Any] = {"person_id": SECOND.id, "round_id": work.round_id}
    news = safety_news(work.session, **asked, since=18, now=work.at)
    assert [one["act"] for one in news["acts"]] == ["release", "end_crew"]
    assert news["cursor"] == 20
    assert safety_news(work.session, **asked, since=20, now=work.at)["acts"] == []


def test_an_act_that_was_changed_is_found(acting: Acting) -> None:
    acting.keep(*one_of_each(acting))
    session = acting.work.session
    row = session.scalars(select(SafetyAct).where(SafetyAct.seq == 5)).one()
    without_triggers(session, "safety_act")
    change(session, "safety_act", "code = 'G99'", row.id)
    (fault,) = check_record(session).faults
    assert fault == "safety acts 1 to 20 differ from the log"
