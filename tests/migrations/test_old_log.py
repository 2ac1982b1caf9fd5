"""Entries of the log from before a revision are held to today's rows."""

import json
from collections.abc import Callable
from typing import Any
from uuid import UUID

from sqlalchemy import Engine, select
from sqlalchemy.orm import Session

from models.schema import ConfirmedTogether, LogEntry, Reading, StoredRule
from models.services.field.card_facts import gather, round_cards
from models.services.keeping.check_record import check_record
from models.services.keeping.confirmations import (
    stored_texts,
    taken_apart,
    text_digest,
)
from models.services.keeping.log import FIRST, link_content, texted
from models.signing import chain
from tests.models.services.keeping.tampering import without_triggers
from tests.scenario import Work


def test_a_log_that_holds_rules_and_words_stays_whole(
    engine_at: Callable[[str], Engine],
) -> None:
    engine = engine_at("complete")
    with Session(engine) as session:
        without_triggers(session, "log_entry")
        _write_as_before(session)
        session.commit()
    with Session(engine) as session:
        assert check_record(session).faults == []
        changed = session.scalars(select(Reading.id).limit(1)).one()
        without_triggers(session, "reading")
        session.execute(
            Reading.__table__.update()
            .where(Reading.__table__.c.id == changed)
            .values(rule_digest=_another(session, changed))
        )
        session.expire_all()
        assert any("differs from the log" in f for f in check_record(session).faults)
        session.rollback()


def _another(session: Session, reading: Any) -> str:
    own = session.get_one(Reading, reading).rule_digest
    return session.scalars(
        select(StoredRule.digest).where(StoredRule.digest != own).limit(1)
    ).one()


def _write_as_before(session: Session) -> None:
    """Write every reading's entry as it was written before, and chain the log anew."""
    rules = {row.digest: row.body for row in session.scalars(select(StoredRule))}
    cards = round_cards(session, Work.resume(session).round_id)
    said = {
        (str(reading.id), judgement.log_seq): facts.say(judgement)
        for facts in gather(session, cards).values()
        for reading in facts.readings
        for judgement in reading.judgements
    }
    previous = FIRST
    for entry in session.scalars(select(LogEntry).order_by(LogEntry.seq)).all():
        body = json.loads(entry.body)
        if entry.action == "reading":
            body["rule"] = texted(rules[body["rule"]])
            body["judgement"] = texted(said[body["key"], entry.seq])
            for one in body["moved"]:
                one["judgement"] = texted(said[one["reading"], entry.seq])
                one["rule"] = one["rule"] and texted(rules[one["rule"]])
        content = link_content(
            entry.seq, entry.at, entry.actor_id, entry.action, entry.subject, body
        )
        entry.body = chain.canonical(body).decode()
        entry.previous, entry.hash = previous, chain.link(previous, content)
        previous = entry.hash


def test_confirmations_of_before_revision_0009_are_held_to_the_log(
    engine_at: Callable[[str], Engine],
) -> None:
    """Their entries name each, by the digest of its text."""
    engine = engine_at("one earlier")
    with Session(engine) as session:
        without_triggers(session, "log_entry")
        _name_each_confirmation(session)
        session.commit()
    with Session(engine) as session:
        assert check_record(session).faults == []
        row = session.scalars(select(ConfirmedTogether)).first()
        assert row is not None
        without_triggers(session, "confirmed_together")
        (key, *rest), *others = row.items
        row.items = [["0" * 32, *rest], *others]
        session.flush()
        faults = check_record(session).faults
        assert f"confirmation {UUID(key)} of the log is gone" in faults
        assert f"confirmation {UUID(int=0)} is not in the log" in faults
        session.rollback()


def _name_each_confirmation(session: Session) -> None:
    texts = stored_texts(session)
    previous = FIRST
    for entry in session.scalars(select(LogEntry).order_by(LogEntry.seq)).all():
        body = json.loads(entry.body)
        if entry.action == "confirm":
            row = session.get_one(ConfirmedTogether, UUID(body["key"]))
            body = {
                "device": body["device"],
                "confirmed": [
                    {
                        "key": str(c.id),
                        "code": c.code,
                        "text_sha256": text_digest(c.text),
                    }
                    for c in taken_apart(row, texts)
                ],
            }
        content = link_content(
            entry.seq, entry.at, entry.actor_id, entry.action, entry.subject, body
        )
        entry.body = chain.canonical(body).decode()
        entry.previous, entry.hash = previous, chain.link(previous, content)
        previous = entry.hash
