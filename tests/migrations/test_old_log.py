"""Entries of the log from before revision 0007 are held to today's rows."""

import json
from collections.abc import Callable
from typing import Any

from sqlalchemy import Engine, select
from sqlalchemy.orm import Session

from models.schema import LogEntry, Reading, StoredRule
from models.services.field.card_facts import gather, round_cards
from models.services.keeping.check_record import check_record
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
