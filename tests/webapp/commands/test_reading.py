"""`check` and `report` read one state of the record, and stop nobody."""

from contextlib import AbstractContextManager

import pytest
from click.testing import CliRunner
from sqlalchemy import Engine, select
from sqlalchemy.orm import Session

from models.schema import LogEntry
from models.schema.engine import make_engine
from models.services.keeping.check_record import check_record
from tests.conftest import Stages
from tests.scenario import IR, Work
from webapp.cli import main
from webapp.commands.instance import open_database
from webapp.config import Config


def note(engine: Engine) -> None:
    """Let a technician record, and be done with it."""
    with Session(engine, expire_on_commit=False) as session:
        work = Work.resume(session)
        work.store(work.entry(work.card("bus", IR), "note", text="rain"))
        session.commit()


@pytest.fixture
def address(stages: Stages, monkeypatch: pytest.MonkeyPatch) -> str:
    """The address of a round that is worked on, as the commands find it."""
    url = stages.fresh("confirmed")
    monkeypatch.setenv("WITNESSMARK_DATABASE", url)
    monkeypatch.setenv("WITNESSMARK_SECRET", "for tests only")
    return url


def reading(address: str) -> AbstractContextManager[Session]:
    return open_database(Config(database=address, secret=""), reading=True)


def test_who_records_does_not_wait_for_a_check(address: str) -> None:
    engine = make_engine(address)
    with reading(address) as session:
        entries = len(session.scalars(select(LogEntry.seq)).all())
        note(engine)
        found = check_record(session)
    assert (found.entries, found.faults) == (entries, [])
    with reading(address) as session:
        assert check_record(session).entries == entries + 1
    engine.dispose()


def test_a_check_does_not_wait_for_who_records(address: str) -> None:
    engine = make_engine(address)
    with Session(engine, expire_on_commit=False) as session:
        work = Work.resume(session)
        work.store(work.entry(work.card("bus", IR), "note", text="rain"))
        done = CliRunner().invoke(main, ["check"])
        session.rollback()
    assert (done.exit_code, done.stderr) == (0, "")
    assert "log entries, head" in done.output
    engine.dispose()
