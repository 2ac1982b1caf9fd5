"""What a tablet sends: each entry stands alone, sending twice does no harm."""

import json
import threading
from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from sqlalchemy import Engine, func, select, text
from sqlalchemy.orm import Session

from models.schema import (
    Base,
    ConfirmedTogether,
    Deficiency,
    Judgement,
    LogEntry,
    Note,
    Reading,
    Receipt,
    SafetyAct,
)
from models.services.keeping.check_record import check_record
from tests.laws import costly
from tests.scenario import CR, IR, SECOND, TECHNICIAN, VI, Work

Entry = dict[str, Any]


def counts(session: Session) -> dict[str, int]:
    """Return how many rows every table has."""
    return {
        name: session.execute(select(func.count()).select_from(table)).scalar_one()
        for name, table in Base.metadata.tables.items()
    }


def statuses(answers: list[Any]) -> list[str]:
    return [answer["status"] for answer in answers]


def one_of_each(work: Work) -> list[Entry]:
    """Return an entry of each kind, the later ones about the earlier ones."""
    card = work.card("bus", IR)
    reading = work.reading(card, card.points[0], "9.0")
    deficiency = work.entry(
        card,
        "deficiency",
        text="barrier cracked",
        holder="installer",
        severity="stops_turnover",
    )
    return [
        work.line(card, "T2"),
        reading,
        work.entry(card, "note", text="  rain outside  "),
        deficiency,
        work.entry(
            card,
            "close_deficiency",
            deficiency_id=deficiency["key"],
            reading_id=reading["key"],
            text="barrier renewed",
        ),
    ]


def test_each_kind_is_stored_and_shown_on_the_card(confirmed: Work) -> None:
    entries = one_of_each(confirmed)
    answers = confirmed.send(*entries)
    assert statuses(answers) == ["stored"] * 5
    assert [a["key"] for a in answers] == [e["key"] for e in entries]
    assert [a["card"] for a in answers[:-1]] == [None] * 4  # the last one has it
    card = answers[-1]["card"]
    assert [r["text"] for r in card["readings"]] == ["9.0"]
    assert card["notes"][0]["text"] == "rain outside"
    assert card["deficiencies"][0]["number"] == "D-001"
    assert card["deficiencies"][0]["state"] == "closed"
    assert card["deficiencies"][0]["closing_text"] == "barrier renewed"


def test_sent_twice_is_known_and_adds_nothing(confirmed: Work) -> None:
    entries = one_of_each(confirmed)
    confirmed.store(*entries)
    before = counts(confirmed.session)
    confirmed.tick(hours=3)
    answers = confirmed.send(*entries)
    assert statuses(answers) == ["known"] * 5
    assert answers[-1]["card"]["readings"][0]["text"] == "9.0"
    assert counts(confirmed.session) == before


def test_twice_in_one_batch_is_known_the_second_time(confirmed: Work) -> None:
    entry = one_of_each(confirmed)[1]
    assert statuses(confirmed.send(entry, dict(entry))) == ["stored", "known"]


def test_known_even_after_the_card_is_signed(confirmed: Work) -> None:
    card = confirmed.card("breaker 52", CR)
    late = confirmed.entry(card, "note", text="from a tablet whose answer was lost")
    confirmed.store(late)
    confirmed.read("breaker 52", CR, "38.6", "39.4", "40.2")
    confirmed.confirm("breaker 52", CR, after=True)
    confirmed.sign(("breaker 52", CR))
    assert statuses(confirmed.send(late)) == ["known"]


# What differs on the second sending -> by whom it is sent.
OTHERWISE: dict[str, tuple[Entry, Any]] = {
    "another value": ({"text": "9.1"}, TECHNICIAN),
    "another unit": ({"unit": "MOhm"}, TECHNICIAN),
    "the same value with a zero more": ({"text": "9.00"}, TECHNICIAN),
    "another time": ({"at": "2026-03-02T22:00:00+00:00"}, TECHNICIAN),
    "one field more": ({"reason": "none"}, TECHNICIAN),
    "another kind": ({"kind": "note"}, TECHNICIAN),
    "the same, by somebody else": ({}, SECOND),
}


def test_the_same_key_with_other_content_is_a_conflict(confirmed: Work) -> None:
    entry = one_of_each(confirmed)[1]
    confirmed.store(entry)
    before = counts(confirmed.session)
    for case, (change, person) in OTHERWISE.items():
        (answer,) = confirmed.send(entry | change, by=person)
        assert answer["status"] == "conflict", case
        assert "stored before with other content" in answer["faults"][0]["message"]
        assert answer["card"]["readings"][0]["text"] == "9.0"
    assert counts(confirmed.session) == before


def test_a_refused_entry_takes_no_other_with_it(confirmed: Work) -> None:
    card = confirmed.card("bus", IR)
    good = [confirmed.reading(card, p, "9.0") for p in card.points]
    bad = confirmed.reading(card, card.points[2], "nine")
    late = confirmed.entry(card, "close_deficiency", deficiency_id=str(uuid4()))
    answers = confirmed.send(*good[:2], bad, *good[2:4], late, *good[4:])
    assert statuses(answers) == [
        "stored",
        "stored",
        "refused",
        "stored",
        "stored",
        "refused",
        "stored",
        "stored",
    ]
    assert len(answers[-1]["card"]["readings"]) == 6


# What a database does that fails on one row, and on no other.
FAILING: dict[str, tuple[str, ...]] = {
    "sqlite": (
        "CREATE TRIGGER failing BEFORE INSERT ON {table} WHEN NEW.text = '{text}' "
        "BEGIN SELECT RAISE(ABORT, 'this row fails'); END",
    ),
    "postgresql": (
        "CREATE FUNCTION fail() RETURNS trigger LANGUAGE plpgsql AS "
        "'BEGIN RAISE EXCEPTION ''this row fails''; END'",
        "CREATE TRIGGER failing BEFORE INSERT ON {table} FOR EACH ROW "
        "WHEN (NEW.text = '{text}') EXECUTE FUNCTION fail()",
    ),
}


@pytest.mark.parametrize(("kind", "text_of"), [("note", "fails"), ("reading", "7.7")])
def test_an_entry_on_which_the_program_fails_is_refused_alone(
    confirmed: Work, caplog: pytest.LogCaptureFixture, kind: str, text_of: str
) -> None:
    caplog.set_level("INFO")
    session = confirmed.session
    for statement in FAILING[session.get_bind().dialect.name]:
        session.execute(text(statement.format(table=kind, text=text_of)))
    card = confirmed.card("bus", IR)
    failing = {
        "note": confirmed.entry(card, "note", text="fails"),
        "reading": confirmed.reading(card, card.points[1], "7.7"),
    }[kind]
    before, reading, after, last = (
        confirmed.entry(card, "note", text="before"),
        confirmed.reading(card, card.points[0], "9.0"),
        confirmed.entry(card, "note", text="after"),
        confirmed.reading(card, card.points[2], "9.1"),
    )
    answers = confirmed.send(before, reading, failing, after, last)
    assert statuses(answers) == ["stored", "stored", "refused", "stored", "stored"]
    (fault,) = answers[2]["faults"]
    assert "failed on this entry" in fault["message"]
    assert "the others stand" in fault["message"]
    shown = answers[2]["card"]
    assert {note["text"] for note in shown["notes"]} == {"before", "after"}
    assert {one["text"] for one in shown["readings"]} == {"9.0", "9.1"}
    assert "this row fails" in caplog.text and "Traceback" in caplog.text
    assert session.get(Receipt, UUID(failing["key"])) is None
    assert check_record(session).faults == []


def test_readings_that_come_in_one_call_are_stored_as_those_that_come_alone(
    confirmed: Work,
) -> None:
    """Verdicts of a group move with each: they and the log are the same."""
    session, card = confirmed.session, confirmed.card("bus", IR)
    texts = ("9.0", "0.4", ">200", "41", "44", "39")
    entries = [
        confirmed.reading(card, point, value)
        for point, value in zip(card.points, texts, strict=True)
    ]
    entries.append({**entries[0]})  # once more, in the same call
    found = []
    for parts in ([entries], [[one] for one in entries]):
        with session.begin_nested() as live:
            answers = [one for part in parts for one in confirmed.send(*part)]
            assert statuses(answers) == ["stored"] * 6 + ["known"]
            assert check_record(session).faults == []
            shown = answers[-1]["card"]
            found.append((stored_of(confirmed), logged_of(session), shown))
            live.rollback()
        session.expire_all()
    together, alone = found
    assert together[:2] == alone[:2]
    assert without_ids(together[2]) == without_ids(alone[2])


def stored_of(work: Work) -> list[Any]:
    """Return every verdict on the card, those that moved included."""
    return [
        (one.text, one.taken_at, one.low, [(j.seq, j.numbers) for j in one.judgements])
        for one in work.facts("bus", IR).readings
    ]


def logged_of(session: Session) -> list[Any]:
    """Return what the log says of readings, but for their keys."""
    rows = session.scalars(select(LogEntry).where(LogEntry.action == "reading"))
    bodies = [json.loads(row.body) for row in rows.all()]
    return [
        (one["text"], one["judgement"], [m["judgement"] for m in one["moved"]])
        for one in bodies
    ]


def without_ids(card: dict[str, Any]) -> list[Any]:
    """Return what a card shows of its readings, but for their keys."""
    return [
        {name: value for name, value in one.items() if not name.endswith("id")}
        for one in card["readings"]
    ]


def test_nothing_of_a_refused_entry_remains(confirmed: Work) -> None:
    """A reading that falls at its last check has left no row behind."""
    (key,) = confirmed.read("bus", IR, "9.0")
    before = counts(confirmed.session)
    card = confirmed.card("bus", IR)
    wrong = [
        confirmed.reading(card, card.points[0], "9.1"),
        confirmed.reading(card, card.points[0], "9.1", supersedes=str(key)),
        confirmed.entry(card, "deficiency", text="x", holder="y", severity="dire"),
        confirmed.line(card, "T2", state="perhaps"),
        confirmed.entry(card, "note", text="   "),
    ]
    assert statuses(confirmed.send(*wrong)) == ["conflict", *["refused"] * 4]
    assert counts(confirmed.session) == before
    # The key of a refused entry is still free.
    assert statuses(confirmed.send(wrong[4] | {"text": "now written"})) == ["stored"]


# The envelope: what came -> the fields that are found wrong.
ENVELOPES: dict[str, tuple[Entry, list[str]]] = {
    "no key": ({"key": None}, ["key"]),
    "a key that is no identifier": ({"key": "17"}, ["key"]),
    "a card that is no identifier": ({"card_id": ["a"]}, ["card_id"]),
    "an unknown kind": ({"kind": "photograph"}, ["kind"]),
    "a kind that is a list": ({"kind": ["note"]}, ["kind"]),
    "a kind that is an object": ({"kind": {}}, ["kind"]),
    "no time": ({"at": None}, ["at"]),
    "a time without a zone": ({"at": "2026-03-02T21:00:00"}, ["at"]),
    "a day that does not exist": ({"at": "2026-02-30T21:00:00+00:00"}, ["at"]),
    "a time before all calendars": ({"at": "0001-01-01T00:00:00+14:00"}, ["at"]),
    "a time before any clock": ({"at": "0001-01-01T00:00:00+00:00"}, ["at"]),
    "a second before any clock": ({"at": "1970-01-01T00:59:59+01:00"}, ["at"]),
    "a clock that ran down": ({"at": "1970-01-01T00:00:00+00:00"}, []),
    "a time at the end of all": ({"at": "9999-12-31T23:59:59-14:00"}, ["at"]),
    "everything at once": (
        {"key": "", "card_id": 3, "kind": 4, "at": "noon"},
        ["key", "at", "card_id", "kind"],
    ),
    "a number beyond what JSON keeps": ({"extra": 2**60}, [""]),
    "half of a surrogate pair": ({"text": "crack \ud83d"}, [""]),
    "half of a pair in a name": ({"\udc00": "x"}, [""]),
    "a zero byte": ({"text": "crack\x00"}, [""]),
    "a zero byte deep inside": ({"extra": [{"a": "\x00"}]}, [""]),
    "nested without end": ({"extra": [[[[[[[[[[[[1]]]]]]]]]]]]}, [""]),
}


@pytest.mark.any_database
def test_a_wrong_envelope_is_said_field_by_field(confirmed: Work) -> None:
    card = confirmed.card("bus", IR)
    got = {}
    for case, (change, _) in ENVELOPES.items():
        entry = confirmed.entry(card, "note", text="crack in the barrier") | change
        (answer,) = confirmed.send(entry)
        assert answer["status"] == ("refused" if answer["faults"] else "stored"), case
        assert all(f["message"] for f in answer["faults"])
        got[case] = [f["field"] for f in answer["faults"]]
    assert got == {case: fields for case, (_, fields) in ENVELOPES.items()}


@pytest.mark.parametrize("key", [float("nan"), float("inf"), 17, ["a"], {}, None])
@pytest.mark.any_database
def test_the_answer_to_a_key_that_is_no_text_is_json(
    confirmed: Work, key: object
) -> None:
    entry = confirmed.entry(confirmed.card("bus", IR), "note", text="crack")
    (answer,) = confirmed.send(entry | {"key": key})
    assert answer["status"] == "refused"
    assert answer["key"] is None
    assert json.dumps(answer, allow_nan=False)


def test_a_clock_that_runs_ahead_is_put_back_to_the_arrival(confirmed: Work) -> None:
    card = confirmed.card("bus", IR)
    ahead = confirmed.at + timedelta(hours=2)
    confirmed.store(
        confirmed.reading(card, card.points[0], "9.0", at=ahead.isoformat()),
        confirmed.entry(card, "note", text="ahead", at=ahead.isoformat()),
    )
    (reading,) = confirmed.facts("bus", IR).readings
    assert (reading.taken_at, reading.arrived_at) == (confirmed.at, confirmed.at)
    assert {n.at for n in confirmed.facts("bus", IR).notes} == {confirmed.at}


def test_a_clock_that_runs_behind_is_kept_with_the_arrival(confirmed: Work) -> None:
    card = confirmed.card("bus", IR)
    then = confirmed.at + timedelta(minutes=1)
    confirmed.tick(minutes=20)
    confirmed.store(confirmed.reading(card, card.points[0], "9.0", at=then.isoformat()))
    (reading,) = confirmed.facts("bus", IR).readings
    assert (reading.taken_at, reading.arrived_at) == (then, confirmed.at)


NEW_TEXT = {
    "note": {"text": "late"},
    "deficiency": {"text": "late", "holder": "x", "severity": "may_follow"},
}


def test_a_signed_card_takes_nothing_more(confirmed: Work) -> None:
    confirmed.read("breaker 52", CR, "38.6", "39.4", "40.2")
    confirmed.confirm("breaker 52", CR, after=True)
    confirmed.sign(("breaker 52", CR))
    card = confirmed.card("breaker 52", CR)
    before = counts(confirmed.session)
    entries = [confirmed.entry(card, kind, **new) for kind, new in NEW_TEXT.items()]
    reading = confirmed.facts("breaker 52", CR).readings[0]
    entries.append(
        confirmed.reading(
            card, reading.point, "38.7", supersedes=str(reading.id), reason="again"
        )
    )
    answers = confirmed.send(*entries)
    assert statuses(answers) == ["conflict"] * 3
    assert {a["faults"][0]["message"] for a in answers} == {
        "This card is signed; the lead can return it to you."
    }
    assert counts(confirmed.session) == before


def test_a_returned_card_is_open_again(confirmed: Work) -> None:
    confirmed.read("breaker 52", CR, "38.6", "39.4", "40.2")
    confirmed.confirm("breaker 52", CR, after=True)
    confirmed.sign(("breaker 52", CR))
    confirmed.give_back("breaker 52", CR)
    card = confirmed.card("breaker 52", CR)
    (answer,) = confirmed.send(confirmed.entry(card, "note", text="returned"))
    assert (answer["status"], answer["card"]["state"]) == ("stored", "returned")


def test_a_withdrawn_card_takes_nothing_more(confirmed: Work) -> None:
    confirmed.withdraw("breaker 52", VI)
    card = confirmed.card("breaker 52", VI)
    (answer,) = confirmed.send(confirmed.entry(card, "note", text="late"))
    assert answer["status"] == "conflict"
    assert "withdrawn" in answer["faults"][0]["message"]


def test_a_round_that_was_turned_over_takes_nothing_more(accepted: Work) -> None:
    before = counts(accepted.session)
    card = accepted.card("bus", IR)
    (answer,) = accepted.send(accepted.entry(card, "note", text="late"))
    assert answer["status"] == "conflict"
    assert "belongs to a new round" in answer["faults"][0]["message"]
    assert counts(accepted.session) == before


def test_every_stored_entry_is_in_the_log(confirmed: Work) -> None:
    entries = one_of_each(confirmed)
    confirmed.store(*entries)
    logged = confirmed.session.scalars(
        select(LogEntry).order_by(LogEntry.seq.desc()).limit(5)
    ).all()[::-1]
    assert [entry.action for entry in logged] == [
        "reading",
        "note",
        "deficiency",
        "close deficiency",
        "safety",  # the acts of a call are one entry, at its end
    ]
    for entry, sent in zip(logged, entries[1:], strict=False):
        assert sent["key"] in entry.body
    for entry in logged:
        assert entry.actor_id == TECHNICIAN.id and "tablet 1" in entry.body


def test_keys_name_the_rows(confirmed: Work) -> None:
    entries = one_of_each(confirmed)
    confirmed.store(*entries)
    for table, entry in zip(
        (SafetyAct, Reading, Note, Deficiency), entries, strict=False
    ):
        rows = confirmed.session.scalars(
            select(table).where(table.card_id == confirmed.card("bus", IR).id)
        )
        assert entry["key"] in {str(row.id) for row in rows}
    receipts = confirmed.session.scalars(select(Receipt.id)).all()
    others = {e["key"] for e in entries if e["kind"] != "safety"}
    assert others <= {str(r) for r in receipts}


# Two at once


def both(engine: Engine, act: Callable[[Work], Any], acts: int = 2) -> list[Any]:
    """Let several act at the same moment, each in a transaction of its own."""
    together = threading.Barrier(acts)
    got: list[Any] = [None] * acts

    def run(at: int) -> None:
        with Session(engine, expire_on_commit=False) as session:
            together.wait()
            try:
                got[at] = act(Work.resume(session))
                session.commit()
            except Exception as error:  # what came out is looked at by the test
                got[at] = error

    threads = [threading.Thread(target=run, args=(at,)) for at in range(acts)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return got


def test_the_same_outbox_from_two_connections_is_stored_once(
    engine_at: Callable[[str], Engine],
) -> None:
    engine = engine_at("confirmed")
    with Session(engine) as session:
        entries = one_of_each(Work.resume(session))
    got = both(engine, lambda work: statuses(work.send(*entries)))
    assert sorted(got) == [["known"] * 5, ["stored"] * 5]


def test_two_readings_at_one_point_at_once_leave_one_that_holds(
    engine_at: Callable[[str], Engine],
) -> None:
    engine = engine_at("confirmed")

    def act(work: Work) -> Any:
        card = work.card("bus", IR)
        return statuses(work.send(work.reading(card, card.points[0], "9.0")))

    got = both(engine, act, 3)
    assert sorted(got) == [["conflict"], ["conflict"], ["stored"]]


def test_deficiencies_raised_at_once_get_numbers_of_their_own(
    engine_at: Callable[[str], Engine],
) -> None:
    engine = engine_at("confirmed")

    def act(work: Work) -> Any:
        entry = work.entry(
            work.card("bus", IR),
            "deficiency",
            text="dust",
            holder="installer",
            severity="may_follow",
        )
        return statuses(work.send(entry))

    assert both(engine, act, 3) == [["stored"]] * 3
    with Session(engine) as session:
        numbers = session.scalars(select(Deficiency.number)).all()
        seqs = session.scalars(select(LogEntry.seq).order_by(LogEntry.seq)).all()
    assert sorted(numbers) == [1, 2, 3]
    assert seqs == list(range(1, len(seqs) + 1))


def test_a_card_is_not_signed_while_an_entry_arrives(
    engine_at: Callable[[str], Engine],
) -> None:
    """Whichever comes first, what was signed is what stands on the card."""
    engine = engine_at("confirmed")
    with Session(engine, expire_on_commit=False) as session:
        work = Work.resume(session)
        work.read("breaker 52", CR, "38.6", "39.4", "40.2")
        work.confirm("breaker 52", CR, after=True)
        session.commit()
    turn = iter(("sign", "note"))

    def act(work: Work) -> Any:
        if next(turn) == "sign":
            work.sign(("breaker 52", CR))
            return "signed"
        entry = work.entry(work.card("breaker 52", CR), "note", text="one more")
        return work.send(entry)[0]["status"]

    got = both(engine, act)
    with Session(engine) as session:
        facts = Work.resume(session).facts("breaker 52", CR)
        assert facts.signed
        noted = "one more" in facts.signed[0].statement
        assert (len(facts.notes) == 1) == noted
    assert set(got) in ({"signed", "stored"}, {"signed", "conflict"})
    assert ("stored" in got) == noted


# Laws

JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(st.characters(codec=None))
    | st.sampled_from(["\x00", "\ud800", "9.0", "GOhm", ">200", "held"]),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3)
    ),
    max_leaves=6,
)
FIELDS = (
    "text",
    "unit",
    "conditions",
    "instrument_id",
    "point_id",
    "supersedes",
    "reason",
    "code",
    "state",
    "holder",
    "severity",
    "reading_id",
    "deficiency_id",
    "at",
    "kind",
    "key",
    "card_id",
)


@pytest.mark.property
@costly(60, house=20, allowed=(HealthCheck.function_scoped_fixture,))
@given(
    kind=st.sampled_from([*sorted(NEW_TEXT), "reading", "close_deficiency"]),
    changes=st.dictionaries(st.sampled_from(FIELDS), JSON, max_size=4),
)
def test_whatever_comes_is_answered_never_raised(
    confirmed: Work, kind: str, changes: Entry
) -> None:
    card = confirmed.card("bus", IR)
    entry = confirmed.reading(card, card.points[0], "9.0") | NEW_TEXT.get(kind, {})
    with confirmed.session.begin_nested() as savepoint:
        (answer,) = confirmed.send(
            entry | {"kind": kind, "key": str(uuid4())} | changes
        )
        savepoint.rollback()
    assert answer["status"] in ("stored", "known", "conflict", "refused")
    assert bool(answer["faults"]) == (answer["status"] in ("conflict", "refused"))


@pytest.mark.property
@costly(60, house=20, allowed=(HealthCheck.function_scoped_fixture,))
@given(
    text=st.text() | st.from_regex(r"[<>]?\s?\d{0,3}[.,]?\d{0,3}\s?", fullmatch=True)
)
def test_any_text_as_a_value_is_kept_as_typed_or_refused(
    confirmed: Work, text: str
) -> None:
    card = confirmed.card("bus", IR)
    with confirmed.session.begin_nested() as savepoint:
        entry = confirmed.reading(card, card.points[0], text)
        (answer,) = confirmed.send(entry)
        if answer["status"] == "stored":
            row = confirmed.session.scalars(
                select(Reading).where(Reading.card_id == card.id)
            ).one()
            assert row.text == text
            assert confirmed.session.scalars(
                select(func.count())
                .select_from(Judgement)
                .where(Judgement.reading_id == row.id)
            ).one()
        else:
            assert answer["status"] == "refused" and answer["faults"]
        savepoint.rollback()


CHANGED: dict[str, dict[str, object]] = {
    "another code": {"code": "G02"},
    "not applicable": {"state": "not_applicable", "reason": "no ladder"},
    "another time": {"at": "2026-03-02T08:00:00Z"},
    "another kind": {"kind": "note", "text": "rain"},
}


@pytest.mark.parametrize("change", CHANGED.values(), ids=CHANGED)
def test_a_confirmation_sent_again_is_known_and_another_a_conflict(
    earlier: Work, change: dict[str, object]
) -> None:
    """Its row is its receipt."""
    entry = earlier.entry(
        earlier.card("bus", IR), "confirm", code="G01", state="confirmed"
    )
    assert statuses(earlier.send(entry)) == ["stored"]
    earlier.tick(minutes=5)
    assert statuses(earlier.send(entry)) == ["known"]
    assert statuses(earlier.send({**entry, **change})) == ["conflict"]
    assert statuses(earlier.send(entry, by=SECOND)) == ["conflict"]
    assert len(earlier.facts("bus", IR).confirmations) == 1


def test_confirmations_of_one_call_are_one_entry_of_the_log(earlier: Work) -> None:
    """One that is refused among them leaves the others, and other kinds part them."""
    bus, breaker = earlier.card("bus", IR), earlier.card("breaker 52", CR)
    sent = [
        earlier.entry(bus, "confirm", code="G01", state="confirmed"),
        earlier.entry(bus, "confirm", code="none", state="confirmed"),
        earlier.entry(bus, "confirm", code="G02", state="confirmed"),
        earlier.entry(breaker, "confirm", code="G01", state="confirmed"),
        earlier.entry(bus, "note", text="rain"),
        earlier.entry(bus, "confirm", code="G03", state="confirmed"),
    ]
    before = earlier.session.scalar(select(func.count()).select_from(LogEntry)) or 0
    assert statuses(earlier.send(*sent)) == [
        "stored",
        "refused",
        *["stored"] * 4,
    ]
    logged = earlier.session.scalars(
        select(LogEntry).where(LogEntry.seq > before).order_by(LogEntry.seq)
    ).all()
    assert [entry.action for entry in logged] == ["confirm"] * 2 + ["note", "confirm"]
    codes = {
        str(row.id): [code for code, _, _ in row.stored_list.items]
        for row in earlier.session.scalars(select(ConfirmedTogether))
    }
    said = [codes.get(json.loads(entry.body)["key"]) for entry in logged]
    assert said == [["G01", "G02"], ["G01"], None, ["G03"]]
    assert check_record(earlier.session).faults == []
