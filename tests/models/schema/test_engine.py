"""Engines that behave alike; column types that keep what they are given."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta, timezone
from typing import Any
from uuid import uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import Engine, delete, insert, inspect, select, text
from sqlalchemy.dialects import sqlite
from sqlalchemy.exc import DBAPIError, IntegrityError, OperationalError, StatementError
from sqlalchemy.orm import Session

from models.schema import Base, Lineup, Organisation, Person, Round, Site
from models.schema import engine as schema_engine
from models.schema.base import UTCDateTime
from models.schema.engine import make_engine
from tests.conftest import DURABLE
from tests.scenario import BEGAN, OWNER_FIRM, SITE, TECHNICIAN, fixed_id

PRAGMAS = {
    "foreign_keys": 1,
    "journal_mode": "wal",
    "synchronous": 2,  # FULL: a commit survives the loss of power
    "busy_timeout": 10_000,
}


@pytest.mark.parametrize(("pragma", "value"), PRAGMAS.items(), ids=PRAGMAS)
def test_sqlite_is_set_to_lose_nothing(
    monkeypatch: pytest.MonkeyPatch, sqlite_url: str, pragma: str, value: Any
) -> None:
    monkeypatch.setattr(schema_engine, "SYNCHRONOUS", DURABLE)
    engine = make_engine(sqlite_url)
    with engine.connect() as connection:
        assert connection.execute(text(f"PRAGMA {pragma}")).scalar_one() == value
    engine.dispose()


def test_a_row_without_its_parent_is_refused(place: Session) -> None:
    orphan = insert(Site).values(
        id=uuid4(), owner_id=uuid4(), name="x", address="", zone="UTC"
    )
    with pytest.raises(IntegrityError):
        place.execute(orphan)


def test_a_parent_with_rows_is_not_deleted(place: Session) -> None:
    parent = delete(Organisation).where(Organisation.id == fixed_id(OWNER_FIRM))
    with pytest.raises(IntegrityError):
        place.execute(parent)


def test_a_reader_does_not_wait_for_a_writer(
    engine_at: Callable[[str], Engine],
) -> None:
    engine = engine_at("place")
    reading = engine.execution_options(read_only=True)
    with Session(engine) as writer:
        writer.get_one(Site, fixed_id(SITE)).name = "renamed"
        writer.flush()
        with Session(reading) as reader:
            assert reader.get_one(Site, fixed_id(SITE)).name == SITE
        writer.commit()
    with Session(reading) as reader:
        assert reader.get_one(Site, fixed_id(SITE)).name == "renamed"


def test_a_second_writer_waits_and_then_says_so(sqlite_url: str) -> None:
    first, second = make_engine(sqlite_url), make_engine(sqlite_url)
    with first.connect() as one, second.connect() as two:
        two.exec_driver_sql("PRAGMA busy_timeout=1")
        two.rollback()
        one.begin()
        with pytest.raises(OperationalError, match="locked"):
            two.begin()
    first.dispose()
    second.dispose()


# Types

WRONG_TYPES: dict[str, str] = {
    "text in a number": "UPDATE lineup SET rated_kv = 'fifteen'",
    "text in a count": "UPDATE person SET session_epoch = 'one'",
    "an unknown role": "UPDATE person SET role = 'admin'",
    "an unknown gear": "UPDATE lineup SET gear = 'oil'",
    "nothing where something must be": "UPDATE site SET zone = NULL",
}


def test_the_database_holds_types_and_choices(place: Session) -> None:
    for case, statement in WRONG_TYPES.items():
        with pytest.raises(DBAPIError), place.begin_nested():
            place.execute(text(statement))
        assert place.get_one(Person, TECHNICIAN.id).roles == {"technician"}, case


def test_every_sqlite_table_is_strict(sqlite_url: str) -> None:
    engine = make_engine(sqlite_url)
    with engine.connect() as connection:
        made = dict(
            connection.execute(
                text("SELECT name, strict FROM pragma_table_list WHERE type = 'table'")
            ).all()
        )
    engine.dispose()
    ours = {name: made[name] for name in Base.metadata.tables}
    assert set(ours.values()) == {1}, ours


def test_every_foreign_key_is_named_and_every_name_fits(engine: Engine) -> None:
    """A downgrade drops by name; PostgreSQL cuts names at 63 characters."""
    found = inspect(engine)
    for table in Base.metadata.tables:
        names = [key["name"] for key in found.get_foreign_keys(table)]
        names += [key["name"] for key in found.get_unique_constraints(table)]
        names += [key["name"] for key in found.get_check_constraints(table)]
        assert all(name and len(name) <= 63 for name in names), (table, names)


def test_a_time_without_a_zone_is_refused(place: Session) -> None:
    round_ = select(Round).where(Round.opened_at == datetime(2026, 3, 2))  # noqa: DTZ001
    with pytest.raises(StatementError, match="without a zone"):
        place.execute(round_)


@pytest.mark.property
@given(
    at=st.datetimes(datetime(1980, 1, 1), datetime(2080, 1, 1)),  # noqa: DTZ001
    minutes=st.integers(-14 * 60, 14 * 60),
)
def test_a_time_is_stored_as_utc_and_read_as_utc(at: datetime, minutes: int) -> None:
    column, dialect = UTCDateTime(), sqlite.dialect()
    given_ = at.replace(tzinfo=timezone(timedelta(minutes=minutes)))
    stored = column.process_bind_param(given_, dialect)
    assert stored is not None and stored.utcoffset() == timedelta(0)
    # SQLite gives it back without a zone, PostgreSQL in the server's.
    for answered in (
        stored.replace(tzinfo=None),
        stored,
        stored.astimezone(timezone(timedelta(hours=9))),
    ):
        read = column.process_result_value(answered, dialect)
        assert read == given_ and read is not None
        assert read.utcoffset() == timedelta(0)
    assert column.process_bind_param(None, dialect) is None
    assert column.process_result_value(None, dialect) is None


def test_microseconds_and_any_script_survive(place: Session) -> None:
    person = place.get_one(Person, TECHNICIAN.id)
    person.created_at = datetime(2026, 3, 2, 21, 0, 0, 123_456, tzinfo=UTC)
    person.name = "Ďóra Ω 🔧 \u2028"
    place.flush()
    place.expire_all()
    assert person.created_at == datetime(2026, 3, 2, 21, 0, 0, 123_456, tzinfo=UTC)
    assert person.name == "Ďóra Ω 🔧 \u2028"
    assert person.created_at > BEGAN


def test_json_keeps_numbers_and_their_kind(place: Session) -> None:
    lineup = place.scalars(select(Lineup)).first()
    assert lineup is not None
    apparatus = lineup.cells[0].apparatus[0]
    plate = {"a": 20, "b": 20.0, "c": 0.1, "d": None, "e": [1, "µ"], "f": True}
    apparatus.nameplate = plate
    place.flush()
    place.expire_all()
    assert repr(apparatus.nameplate) == repr(plate)
