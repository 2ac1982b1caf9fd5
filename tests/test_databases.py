"""The two databases that every service test runs on are what they should be."""

from sqlalchemy import Engine, inspect, text
from sqlalchemy.orm import Session

from models.schema import Base


def test_a_fresh_database_has_every_table(engine: Engine) -> None:
    assert set(Base.metadata.tables) <= set(inspect(engine).get_table_names())


def test_a_session_begins_with_an_empty_record(session: Session) -> None:
    counts = {
        name: session.execute(text(f"SELECT count(*) FROM {name}")).scalar_one()
        for name in Base.metadata.tables
    }
    assert set(counts.values()) == {0}, counts
