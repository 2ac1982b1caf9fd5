"""What was changed behind the program's back is found."""

from collections.abc import Callable
from typing import Any

import pytest
from sqlalchemy import select, text, update
from sqlalchemy.orm import Session

from models.schema import (
    ConfirmedTogether,
    Judgement,
    LogEntry,
    Package,
    PackageFile,
    Reading,
    Signature,
)
from models.services.keeping.check_record import check_record
from tests.cases import first_on_both
from tests.models.services.keeping.tampering import (
    change,
    on_postgres,
    without_triggers,
)
from tests.scenario import CR, IR, Work

Tamper = Callable[[Work], Any]


def on_log(what: str, seq: int = 9) -> Tamper:
    """Return an act that changes one entry of the log."""

    def act(work: Work) -> None:
        without_triggers(work.session, "log_entry")
        work.session.execute(text(f"UPDATE log_entry SET {what} WHERE seq = {seq}"))

    return act


def drop(condition: str, table: str = "log_entry") -> Tamper:
    """Return an act that takes rows out."""

    def act(work: Work) -> None:
        without_triggers(work.session, table)
        work.session.execute(text(f"DELETE FROM {table} WHERE {condition}"))

    return act


def plainly(statement: str, table: str) -> Tamper:
    """Return an act that does one statement on a table."""

    def act(work: Work) -> None:
        without_triggers(work.session, table)
        work.session.execute(text(statement))

    return act


def on_reading(what: str) -> Tamper:
    """Return an act that changes the first reading of a card."""

    def act(work: Work) -> None:
        reading = work.facts("breaker 52", CR).current[0]
        without_triggers(work.session, "reading")
        change(work.session, "reading", what, reading.id)

    return act


def on_row(table: type[Any], what: str) -> Tamper:
    """Return an act that changes one row of a table."""

    def act(work: Work) -> None:
        row = work.session.scalars(select(table.id).limit(1)).one()
        without_triggers(work.session, table.__tablename__)
        blob = "bytea" if on_postgres(work.session) else "blob"
        clause = what.replace("{blob}", blob)
        change(work.session, table.__tablename__, clause, row)

    return act


def forged_verdict(work: Work) -> None:
    """The verdict that holds."""
    judgement = work.facts("bus", IR).current[0].judgements[-1]
    without_triggers(work.session, "judgement")
    work.session.execute(
        update(Judgement).where(Judgement.id == judgement.id).values(verdict="outside")
    )
    work.session.expire_all()


def change_rules(work: Work) -> None:
    without_triggers(work.session, "rule")
    work.session.execute(text("""UPDATE rule SET body = '{"v"\\:1,"cite"\\:[]}'"""))


def without_rules(work: Work) -> None:
    """Every rule, as somebody who turns foreign keys off could."""
    without_triggers(work.session, "rule")
    if on_postgres(work.session):
        for table in ("point", "reading", "judgement"):
            key = f"fk_{table}_rule_digest_rule"
            work.session.execute(text(f"ALTER TABLE {table} DROP CONSTRAINT {key}"))
    else:
        work.session.execute(text("PRAGMA defer_foreign_keys = ON"))
    work.session.execute(text("DELETE FROM rule"))


def without_reading(work: Work) -> None:
    reading = work.facts("breaker 52", CR).current[0]
    without_triggers(work.session, "reading", "judgement")
    for table, column in (("judgement", "reading_id"), ("reading", "id")):
        value = reading.id if on_postgres(work.session) else reading.id.hex
        work.session.execute(
            text(f"DELETE FROM {table} WHERE {column} = :id"), {"id": value}
        )
    work.session.expire_all()


def with_reading_of_no_entry(work: Work) -> None:
    """A reading put in by hand, copied from another."""
    old = work.facts("breaker 52", CR).current[0]
    columns = [c.name for c in Reading.__table__.columns if c.name != "id"]
    names = ", ".join(f'"{name}"' for name in columns)
    new = "00000000-0000-0000-0000-000000000001"
    value, key = (
        (old.id, new)
        if on_postgres(work.session)
        else (old.id.hex, new.replace("-", ""))
    )
    work.session.execute(
        text(
            f"INSERT INTO reading (id, {names}) SELECT :key, {names} FROM reading "
            "WHERE id = :id"
        ),
        {"id": value, "key": key},
    )


# What somebody did -> words of a fault that is found.
TAMPERINGS: dict[str, tuple[Tamper, str]] = {
    "an action": (on_log("action = 'note'"), "entry 9 is not what its hash"),
    "a subject": (on_log("subject = 'card'"), "entry 9 is not what its hash"),
    "a body": (on_log("body = '{}'"), "entry 9 is not what its hash"),
    "a body that is no JSON": (on_log("body = 'rain'"), "entry 9 cannot be read"),
    "a body with a float": (
        on_log("""body = '{"a"\\:1.5}'"""),
        "entry 9 cannot be read",
    ),
    "a hash": (on_log(f"hash = '{'ab' * 32}'"), "entry 10 does not follow"),
    "a link": (on_log(f"previous = '{'ab' * 32}'"), "entry 9 does not follow"),
    "who": (on_log("actor_id = NULL", 24), "entry 24 is not what its hash"),
    "the first entry": (drop("seq = 1"), "entry 1 is missing"),
    "an entry between": (drop("seq = 9"), "entry 9 is missing"),
    "entries at the end": (
        drop("seq > 20"),
        "is not in the log",
    ),
    "the value of a reading": (on_reading("text = '38.7'"), "differs from the log"),
    "its unit": (on_reading("unit = 'mOhm'"), "differs from the log"),
    "its bounds": (on_reading("low = 38.5"), "differs from the log"),
    "its conditions": (
        on_reading("""conditions = '{"temperature_c": 80}'"""),
        "differs from the log",
    ),
    "its rule": (
        on_reading("rule_digest = (SELECT max(digest) FROM rule)"),
        "differs from the log",
    ),
    "its reason": (on_reading("reason = 'because'"), "differs from the log"),
    "its device": (on_reading("device = 'other'"), "differs from the log"),
    "a reading taken out": (without_reading, "of the log is gone"),
    "a reading put in": (with_reading_of_no_entry, "is not in the log"),
    "what was signed": (
        on_row(Signature, "statement = replace(statement, '3', '4')"),
        "does not hold",
    ),
    "a signature": (on_row(Signature, "seal = 'AAAA'"), "does not hold"),
    "a verdict": (
        on_row(Judgement, "verdict = 'marginal'"),
        "a verdict of reading",
    ),
    "a number of a judgement": (
        on_row(Judgement, "limit_low = 7.5"),
        "a verdict of reading",
    ),
    "the number of its log entry": (
        on_row(Judgement, "log_seq = 7"),
        "a verdict of reading",
    ),
    "a rule": (
        change_rules,
        "is not what its digest was taken over",
    ),
    "a rule taken out": (without_rules, "which is not there"),
    "a verdict taken out": (drop("seq = 1", "judgement"), "a verdict of reading"),
    "a verdict, in all its places but the rule": (
        forged_verdict,
        "is outside, its rule within",
    ),
    "a calibration": (on_reading("calibration_id = NULL"), "differs from the log"),
    "an accuracy": (on_reading("accuracy = '{}'"), "differs from the log"),
    "the file of a package": (
        on_row(PackageFile, "pdf = CAST('other' AS {blob})"),
        "is not what was signed",
    ),
    "a file and its digest": (
        on_row(PackageFile, f"sha256 = '{'ab' * 32}'"),
        "is not what was signed",
    ),
    "the state of a round": (
        lambda work: work.session.execute(text("UPDATE round SET state = 'open'")),
        "is open, where the log says accepted",
    ),
    "somebody's certificate": (
        lambda work: work.session.execute(
            text(
                "UPDATE signing_key SET certificate_pem = "
                "(SELECT certificate_pem FROM authority)"
            )
        ),
        "is not in the log",
    ),
    "a signature taken out": (
        drop("meaning = 'performed'", "signature"),
        "of the log is gone",
    ),
    "the log head that a package names": (
        on_row(Package, """document = replace(document, '"seq"\\:', '"seq"\\:1')"""),
        "which is not there as named",
    ),
    "the document of a package": (
        on_row(Package, "document = replace(document, 'breaker', 'braker')"),
        "is not what was signed",
    ),
}


# The same on a round that was begun before safety had scopes.
EARLIER: dict[str, tuple[Tamper, str]] = {
    "a confirmation": (
        on_row(ConfirmedTogether, "items = '[]'"),
        "differs from the log",
    ),
    "when it was made": (
        on_row(ConfirmedTogether, "at = '2001-01-01 00:00:00'"),
        "differs from the log",
    ),
    "who made it": (
        on_row(
            ConfirmedTogether,
            "by_id = (SELECT person_id FROM person_role WHERE role = 'owner' LIMIT 1)",
        ),
        "differs from the log",
    ),
    "confirmations taken out": (
        drop("1 = 1", "confirmed_together"),
        "of the log is gone",
    ),
    "the text of a precondition": (
        plainly("UPDATE precondition_text SET text = 'rain'", "precondition_text"),
        "is not what its digest says",
    ),
    "a text taken out": (
        plainly("DELETE FROM precondition_text", "precondition_text"),
        "is not there",
    ),
    "a list of preconditions": (
        plainly("UPDATE precondition_list SET items = '[]'", "precondition_list"),
        "is not what its digest says",
    ),
}


@pytest.mark.parametrize(("tamper", "words"), first_on_both(TAMPERINGS))
def test_a_change_is_found(accepted: Work, tamper: Tamper, words: str) -> None:
    tamper(accepted)
    accepted.session.expire_all()
    found = check_record(accepted.session)
    assert any(words in fault for fault in found.faults), found.faults


@pytest.mark.parametrize(("tamper", "words"), first_on_both(EARLIER))
def test_a_change_of_an_earlier_confirmation_is_found(
    session_at: Callable[[str], Session], tamper: Tamper, words: str
) -> None:
    work = Work.resume(session_at("one earlier"))
    assert check_record(work.session).faults == []
    tamper(work)
    work.session.expire_all()
    found = check_record(work.session)
    assert any(words in fault for fault in found.faults), found.faults


def test_an_untouched_record_has_no_fault(accepted: Work) -> None:
    found = check_record(accepted.session)
    assert found.faults == []
    assert found.entries == accepted.session.query(LogEntry).count()
