"""The database itself refuses to change or delete what people recorded."""

from uuid import uuid4

import pytest
from sqlalchemy import Engine, UniqueConstraint, text
from sqlalchemy.exc import DatabaseError
from sqlalchemy.orm import Session

from models.schema import (
    APPEND_ONLY,
    Base,
    PlanChange,
    Rejudging,
    Round,
    Tablet,
    TabletAct,
)
from tests.attaching import put_and_withdraw
from tests.giving import change, give
from tests.models.services.criteria.test_editions import choose
from tests.models.services.keeping.tampering import on_postgres
from tests.models.services.turnover import test_inspections as inspected
from tests.scenario import CR, LEAD, OWNER, TECHNICIAN, VI, Work, lineup_id
from tests.table_checking import check_rows

SAID = "{table}: rows of this table are only ever added"


@pytest.fixture
def with_a_row_each(complete: Work) -> Session:
    """A round on which every kind of thing has happened once."""
    work = complete
    work.give_back("breaker 52", CR)
    first = work.facts("breaker 52", CR).current[0]
    bad = work.again("breaker 52", CR, first.id, "61.7")
    work.dispose(bad)
    card = work.card("breaker 52", CR)
    deficiency = work.entry(
        card, "deficiency", text="dust", holder="x", severity="may_follow"
    )
    work.store(
        work.entry(card, "note", text="again"),
        deficiency,
        work.entry(
            card, "close_deficiency", text="swept", deficiency_id=deficiency["key"]
        ),
    )
    work.sign(("breaker 52", CR))
    work.give_back("breaker 52", VI)
    work.withdraw("breaker 52", VI)
    point = inspected.set_point(work, "witness")
    inspected.give_notice(work, point)
    inspected.answer(work, point, "present")
    leave_out(work)
    work.seal(TECHNICIAN, "performed")
    work.give_back("breaker 52", CR)
    work.sign(("breaker 52", CR))
    work.waive(TECHNICIAN)
    put_and_withdraw(work, "lineup", lineup_id())
    for _ in range(2):
        check_rows(work.session, OWNER, "vacuum_pressure", at=work.tick())
    work.session.flush()
    choose(work.session, now=work.tick())
    change(work.session, give(work.session, at=work.tick()), at=work.tick(), text="33")
    work.session.add(
        Rejudging(
            id=uuid4(),
            scope="lineup",
            subject_id=lineup_id(),
            what="",
            reason="older print",
            counts={},
            digest="",
            by_id=LEAD.id,
            at=work.at,
        )
    )
    revoke_a_tablet(work)
    work.session.flush()
    begun_before = work.session.get_one(Round, work.round_id)
    begun_before.earlier_list = True
    note = work.entry(work.card("bus", CR), "confirm", code="G01", state="confirmed")
    work.give_back("bus", CR)
    work.store(note)
    return work.session


def revoke_a_tablet(work: Work) -> None:
    at = {"first_at": work.at, "last_at": work.at, "last_by_id": LEAD.id}
    tablet = Tablet(id=uuid4(), label="tablet 7f3a", program="1", browser="", **at)
    work.session.add(tablet)
    work.session.flush()
    said = {"act": "revoke", "reason": "lost", "by_id": LEAD.id, "at": work.at}
    work.session.add(TabletAct(id=uuid4(), tablet_id=tablet.id, **said))


def leave_out(work: Work) -> None:
    """Leave a card out of the plan."""
    card = work.card("breaker 52", VI)
    work.session.add(
        PlanChange(
            id=uuid4(),
            round_id=work.round_id,
            what="left_out",
            cell_id=card.apparatus.cell_id,
            apparatus_id=card.apparatus_id,
            procedure=card.procedure,
            detail=card.detail,
            was=["pole A"],
            reason="tested at the works",
            by_id=LEAD.id,
            at=work.at,
        )
    )


def columns_of(table: str) -> list[str]:
    return [column.name for column in Base.metadata.tables[table].columns]


def test_update_and_delete_are_refused_by_every_table(with_a_row_each: Session) -> None:
    session = with_a_row_each
    acts = ["DELETE FROM {table}", 'UPDATE {table} SET "{column}" = "{column}"']
    if on_postgres(session):
        acts += ["TRUNCATE {table} CASCADE"]
    for table in APPEND_ONLY:
        count = text(f"SELECT count(*) FROM {table}")
        before = session.execute(count).scalar_one()
        assert before > 0, f"nothing was recorded in {table}: the test proves nothing"
        for act in acts:
            statement = act.format(table=table, column=columns_of(table)[0])
            with pytest.raises(DatabaseError) as refused, session.begin_nested():
                session.execute(text(statement))
            said = str(refused.value)
            assert SAID.format(table=table) in said or "TRUNCATE" in statement, (
                statement
            )
            assert "only ever added" in said, statement
        assert session.execute(count).scalar_one() == before


def test_replacing_rows_is_refused(with_a_row_each: Session) -> None:
    """SQLite's REPLACE deletes what is in the way without asking a DELETE trigger."""
    session = with_a_row_each
    for table in APPEND_ONLY:
        columns = columns_of(table)
        [key] = [column.name for column in Base.metadata.tables[table].primary_key]
        statement = f"INSERT OR REPLACE INTO {table} SELECT * FROM {table}"
        if on_postgres(session):
            statement = (
                f"INSERT INTO {table} SELECT * FROM {table} ON CONFLICT ({key}) "
                f'DO UPDATE SET "{columns[0]}" = excluded."{columns[0]}"'
            )
        with pytest.raises(DatabaseError) as refused, session.begin_nested():
            session.execute(text(statement))
        assert SAID.format(table=table) in str(refused.value), statement


def unique_keys(table: str) -> list[list[str]]:
    """Return the keys, other than the primary one, that rows of a table share not."""
    found = Base.metadata.tables[table]
    return [
        [column.name for column in constraint.columns]
        for constraint in found.constraints
        if isinstance(constraint, UniqueConstraint)
    ]


def test_replacing_by_any_other_key_is_refused(with_a_row_each: Session) -> None:
    session = with_a_row_each
    said = "syntax error" if on_postgres(session) else "only ever added"
    tried = 0
    for table in APPEND_ONLY:
        for key in unique_keys(table):
            others = [f'"{c}"' for c in columns_of(table) if c != "id"]
            names = ", ".join(others)
            statement = (
                f"INSERT OR REPLACE INTO {table} (id, {names}) "
                f"SELECT 'new', {names} FROM {table} WHERE "
                + " AND ".join(f"{c} IS NOT NULL" for c in key)
                + " LIMIT 1"
            )
            with pytest.raises(DatabaseError, match=said), session.begin_nested():
                session.execute(text(statement))
            tried += 1
    assert tried == 21


def test_the_list_of_tables_is_the_triggers_list(engine: Engine) -> None:
    """A table added to the list without a migration would be guarded by nothing."""
    with engine.connect() as connection:
        if engine.dialect.name == "sqlite":
            found = connection.execute(
                text("SELECT DISTINCT tbl_name FROM sqlite_master WHERE type='trigger'")
            )
        else:
            found = connection.execute(
                text(
                    "SELECT DISTINCT event_object_table "
                    "FROM information_schema.triggers"
                )
            )
        assert {row[0] for row in found} == set(APPEND_ONLY)
