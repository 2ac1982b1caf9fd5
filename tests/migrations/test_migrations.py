"""Migrations: both ways with rows before and after, on SQLite and PostgreSQL."""

import json
import shutil
import sys
from collections.abc import Callable
from datetime import timedelta
from importlib.resources import files
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

import pytest
from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from sqlalchemy import Engine, Uuid, bindparam, func, inspect, select, text
from sqlalchemy.exc import DatabaseError
from sqlalchemy.orm import Session

from models.schema import (
    Apparatus,
    Base,
    InspectionAnswer,
    InspectionNotice,
    InspectionPoint,
    LogEntry,
    Person,
    PersonRole,
    Reading,
    Round,
    Site,
    SiteAssignment,
    Tablet,
    TabletAct,
)
from models.schema.base import Record
from models.schema.engine import make_engine
from models.services.keeping.check_record import check_record
from models.services.keeping.confirmations import confirmations_on
from models.services.setup.plate_versions import set_plate
from tests.attaching import put_and_withdraw
from tests.conftest import DATABASES, sqlite_address
from tests.giving import change, give
from tests.models.services.criteria.test_rejudge import choose_eighty, judge_again
from tests.models.services.planning.test_planning import Desk as PlanDesk
from tests.models.services.safety.acting import Acting, one_of_each
from tests.scenario import (
    ADMINISTRATOR,
    BEGAN,
    DW,
    IR,
    LEAD,
    SITE,
    Work,
    fixed_id,
    lineup_id,
)
from webapp.migrating import alembic_config, migrate

REVISIONS = [f"{n:04}" for n in range(1, 22)]
PLANNING, BEFORE_PLANNING = "0012", "0011"
PEOPLE, BEFORE_PEOPLE = "0017", "0016"
SAFETY, BEFORE_SAFETY = "0018", "0017"


@pytest.fixture(params=DATABASES)
def empty_url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The address of a database without any table."""
    if request.param == "sqlite":
        return sqlite_address(tmp_path / "empty.sqlite")
    url: str = request.getfixturevalue("empty_postgres_url")
    return url


@pytest.fixture
def at_work(engine_at: Callable[[str], Engine]) -> Engine:
    """A database at the newest revision on which a round has been accepted.

    The round was begun before safety had scopes: acts of safety are not taken down.
    The administrator is a technician too: there is a way down for who holds a role
    that there was before.
    """
    engine = engine_at("accepted earlier")
    with Session(engine) as session:
        session.add(
            PersonRole(
                id=uuid4(),
                person_id=ADMINISTRATOR.id,
                role="technician",
                since=BEGAN,
                until=None,
            )
        )
        session.commit()
    return engine


def url_of(engine: Engine) -> str:
    return engine.url.render_as_string(hide_password=False)


Rows = dict[str, list[dict[str, Any]]]


def rows(engine: Engine) -> Rows:
    """Return every row of every table that the database has, by column."""
    with engine.connect() as connection:
        return {
            name: [
                dict(row)
                for row in connection.execute(text(f"SELECT * FROM {name}")).mappings()
            ]
            for name in inspect(engine).get_table_names()
            if name != "alembic_version"
        }


def kept(before: Rows, after: Rows) -> bool:
    """Say whether what both have room for is the same in both."""
    shared = before.keys() & after.keys()
    return all(_alike(name, before[name], after[name]) for name in shared)


# What a step writes otherwise; it has a test of its own.
REWRITTEN = {"apparatus": {"nameplate"}, "cell": {"bus"}}


def _alike(
    table: str, before: list[dict[str, Any]], after: list[dict[str, Any]]
) -> bool:
    if not before or not after:
        return len(before) == len(after)
    shared = before[0].keys() & after[0].keys()
    columns = sorted(shared - REWRITTEN.get(table, set()))
    return _in_order(before, columns) == _in_order(after, columns)


def _in_order(found: list[dict[str, Any]], columns: list[str]) -> list[str]:
    return sorted(repr([row[name] for name in columns]) for row in found)


def revision(engine: Engine) -> str:
    with engine.connect() as connection:
        found: str = connection.execute(
            text("SELECT version_num FROM alembic_version")
        ).scalar_one()
    return found


def tables(url: str) -> set[str]:
    engine = make_engine(url)
    found = set(inspect(engine).get_table_names()) - {"alembic_version"}
    engine.dispose()
    return found


def test_the_revisions_stand_in_one_line() -> None:
    script = ScriptDirectory(str(files("migrations")))
    found = [one.revision for one in script.walk_revisions()]
    assert found[::-1] == REVISIONS


def test_from_nothing_to_the_newest_and_back(empty_url: str) -> None:
    config = alembic_config(empty_url)
    there = {"base": tables(empty_url)}
    for name in REVISIONS:
        command.upgrade(config, name)
        there[name] = tables(empty_url)
    assert there["base"] == set()
    assert there[REVISIONS[-1]] == set(Base.metadata.tables)
    for name in [*REVISIONS[-2::-1], "base"]:
        command.downgrade(config, name)
        assert tables(empty_url) == there[name], name
    command.upgrade(config, "head")  # what was taken down can be put up again
    assert tables(empty_url) == set(Base.metadata.tables)


def test_migrating_twice_does_nothing(at_work: Engine) -> None:
    before = rows(at_work)
    migrate(url_of(at_work))
    assert rows(at_work) == before


def test_the_mappings_are_what_the_migrations_make(at_work: Engine) -> None:
    command.check(alembic_config(url_of(at_work)))


def test_rows_survive_each_step_down_and_up(at_work: Engine) -> None:
    """Every row stays that the step below or above has a place for.

    Rows are read as they are: today's mappings know the newest revision only.
    """
    config = alembic_config(url_of(at_work))
    with Session(at_work, expire_on_commit=False) as session:
        at = session.scalars(select(func.max(LogEntry.at))).one()
        change(session, give(session, at=at), at=at, text="33")
        session.commit()
    before = rows(at_work)
    assert len(before["given_criterion"]) == 2
    for name in REVISIONS[-2::-1]:
        command.downgrade(config, name)
        assert revision(at_work) == name
        assert kept(before, rows(at_work)), name
    add_a_site(at_work)
    grown = rows(at_work)
    assert len(grown["site"]) == len(before["site"]) + 1
    for name in REVISIONS[1:]:
        command.upgrade(config, name)
        assert revision(at_work) == name
        assert kept(grown, rows(at_work)), name


def test_the_work_goes_on_after_all_steps_down_and_up(at_work: Engine) -> None:
    config = alembic_config(url_of(at_work))
    before = rows(at_work)
    command.downgrade(config, REVISIONS[0])
    command.upgrade(config, "head")
    with Session(at_work, expire_on_commit=False) as session:
        assert check_record(session).faults == []
        at = Work.resume(session).tick(days=30)
        work = Work.begin(session, kind="maintenance", at=at)
        work.confirm("bus", IR)
        work.read("bus", IR, "9.0")
        session.commit()
    assert len(rows(at_work)["reading"]) == len(before["reading"]) + 1


def test_confirmations_are_taken_apart_and_put_together_as_they_were(
    at_work: Engine,
) -> None:
    config = alembic_config(url_of(at_work))
    with Session(at_work, expire_on_commit=False) as session:
        work = Work.resume(session)
        work = Work.begin(
            session, kind="maintenance", at=work.tick(days=30), earlier_list=True
        )
        card = work.card("bus", IR)
        work.store(
            work.entry(
                card, "confirm", code="G02", state="not_applicable", reason="no ladder"
            ),
            work.entry(card, "note", text="parts the two, of the same moment"),
            work.entry(card, "confirm", code="G01", state="confirmed"),
        )
        session.commit()
        shown = [
            (str(c.id), c.code, c.text, c.state, c.reason, c.by_id, c.at)
            for c in confirmations_on(session, [work.card("bus", IR).id])
        ]
    assert [(code, reason) for _, code, _, _, reason, *_ in shown] == [
        ("G02", "no ladder"),
        ("G01", None),
    ]
    command.downgrade(config, "0009")
    before = rows(at_work)
    command.downgrade(config, "0008")
    below = rows(at_work)
    count = sum(len(json_of(row["items"])) for row in before["confirmed_together"])
    assert len(below["confirmation"]) == count
    own = {str(UUID(str(row["id"]))): row for row in below["confirmation"]}
    for key, code, words, state, reason, *_ in shown:
        row = own[key]
        assert (row["code"], row["text"], row["state"]) == (code, words, state)
        assert row["reason"] == reason
    assert refuses(at_work, "DELETE FROM confirmation")
    command.upgrade(config, "0009")
    assert in_order(rows(at_work)) == in_order(before)
    assert refuses(at_work, "DELETE FROM confirmed_together")
    command.upgrade(config, "head")
    with Session(at_work) as session:
        assert check_record(session).faults == []


def test_apparatus_becomes_things_and_the_bus_sections(at_work: Engine) -> None:
    config = alembic_config(url_of(at_work))
    plate = {"serial": "V-7", "built_year": 2019.0, "conductor": "copper"}
    with Session(at_work, expire_on_commit=False) as session:
        breaker = session.scalars(
            select(Apparatus).where(Apparatus.label == "breaker 52")
        ).first()
        assert breaker is not None
        set_plate(breaker, plate)
        session.commit()
        cell = str(breaker.cell_id)
    command.downgrade(config, "0015")
    below = rows(at_work)
    assert {row["bus"] for row in below["cell"]} == {"bus · 1200 A"}
    plates = [json_of(row["nameplate"]) for row in below["apparatus"]]
    assert plate in plates
    with at_work.begin() as connection:
        connection.execute(
            text("UPDATE cell SET bus = 'west bar' WHERE id <> :id").bindparams(
                bindparam("id", UUID(cell), Uuid())
            )
        )
    command.upgrade(config, "0016")
    after = rows(at_work)
    assert {row["bus"] for row in after["cell"]} == {"bus", "west bar"}
    assert {(row["name"], row["rated_a"]) for row in after["bus_section"]} == {
        ("bus", 1200.0),
        ("west bar", None),
    }
    own = next(row for row in after["apparatus"] if row["serial"] == "V-7")
    assert (own["built_year"], own["maker"]) == (2019, None)
    assert json_of(own["nameplate"]) == {"conductor": "copper"}
    version = next(
        row for row in after["nameplate_version"] if row["apparatus_id"] == own["id"]
    )
    assert (version["number"], version["by_id"], version["at"]) == (1, None, None)
    assert json_of(version["plate"]) == plate
    placed = {row["apparatus_id"]: row["cell_id"] for row in after["placement"]}
    assert placed == {row["id"]: row["cell_id"] for row in after["apparatus"]}
    assert {row["cell_id"] for row in after["card"]} <= set(placed.values())
    for table in ("placement", "nameplate_version"):
        assert refuses(at_work, f"DELETE FROM {table}")


def test_things_that_moved_are_not_taken_down(at_work: Engine) -> None:
    """Below, their readings would be shown in a cell where they were not taken."""
    config = alembic_config(url_of(at_work))
    with at_work.begin() as connection:
        connection.execute(
            text("UPDATE apparatus SET cell_id = NULL WHERE label = 'breaker 52'")
        )
    command.downgrade(config, "0016")
    before = rows(at_work)
    with pytest.raises(CommandError, match=r"was moved.*Nothing was changed"):
        command.downgrade(config, "0015")
    assert revision(at_work) == "0016"
    assert rows(at_work) == before


def test_roles_become_rows_and_one_of_them_goes_back(at_work: Engine) -> None:
    config = alembic_config(url_of(at_work))
    held = roles_held(at_work)
    assert held["stint"] == ["lead", "technician"]
    command.downgrade(config, "0009")
    with at_work.connect() as connection:
        below = dict(connection.execute(text("SELECT sign_in, role FROM person")).all())
    kept = {name: roles[-1] for name, roles in held.items()}
    assert below == kept | {"stint": "lead"}
    assert "ck_person_role" in checks_of(at_work, "person")
    command.upgrade(config, "0010")
    assert roles_held(at_work) == {name: [role] for name, role in below.items()}
    assert "ck_person_role" not in checks_of(at_work, "person")


def test_who_only_administers_keeps_the_roles_from_going_back(at_work: Engine) -> None:
    config = alembic_config(url_of(at_work))
    command.downgrade(config, "0010")
    with at_work.begin() as connection:
        connection.execute(
            text(
                "DELETE FROM person_role WHERE role = 'technician' AND person_id = "
                "(SELECT id FROM person WHERE sign_in = 'knot')"
            )
        )
    before = rows(at_work)
    with pytest.raises(CommandError, match=r"knot would have no role.*Nothing was"):
        command.downgrade(config, "0009")
    assert (revision(at_work), rows(at_work)) == ("0010", before)


def test_assignments_get_days_and_lose_them(at_work: Engine) -> None:
    """The first of a site's days; what has an end is not kept below."""
    config = alembic_config(url_of(at_work))
    with Session(at_work) as session:
        before = set(
            session.execute(select(SiteAssignment.person_id, SiteAssignment.site_id))
        )
        ended = session.scalars(select(SiteAssignment).limit(1)).one()
        gone = (ended.person_id, ended.site_id)
        ended.until_day = ended.from_day
        session.commit()
    command.downgrade(config, BEFORE_PEOPLE)
    below = rows(at_work)["site_assignment"]
    assert len(below) == len(before) - 1
    assert "ck_site_assignment_days" not in checks_of(at_work, "site_assignment")
    command.upgrade(config, PEOPLE)
    command.upgrade(config, "head")
    with Session(at_work) as session:
        after = session.scalars(select(SiteAssignment)).all()
        assert {(one.person_id, one.site_id) for one in after} == before - {gone}
        for one in after:
            day = one.made_at.astimezone(ZoneInfo(one.site.zone)).date()
            assert (one.from_day, one.until_day, one.made_by_id) == (day, None, None)
        assert check_record(session).faults == []


def test_who_has_not_enrolled_and_a_revoked_key_stay(at_work: Engine) -> None:
    config = alembic_config(url_of(at_work))
    with Session(at_work) as session:
        person = session.get_one(Person, ADMINISTRATOR.id)
        person.password_hash = None
        person.key.revoked_at = BEGAN
        session.commit()
    with pytest.raises(CommandError, match=r"1 keys.*1 persons.*Nothing was changed"):
        command.downgrade(config, BEFORE_PEOPLE)
    assert revision(at_work) == PEOPLE


def roles_held(engine: Engine) -> dict[str, list[str]]:
    """Return the roles that each holds, by sign-in name, in the order of letters."""
    with engine.connect() as connection:
        found: dict[str, list[str]] = {}
        for name, role in connection.execute(
            text(
                "SELECT sign_in, person_role.role FROM person_role JOIN person "
                "ON person.id = person_id WHERE until IS NULL ORDER BY 1, 2"
            )
        ):
            found.setdefault(name, []).append(role)
    return found


def checks_of(engine: Engine, table: str) -> set[str | None]:
    return {one["name"] for one in inspect(engine).get_check_constraints(table)}


def json_of(value: Any) -> Any:
    return json.loads(value) if isinstance(value, str) else value


def in_order(found: Rows) -> dict[str, list[str]]:
    return {
        name: _in_order(part, sorted(part[0])) for name, part in found.items() if part
    }


BEFORE_RANGES: dict[str, dict[str, Any]] = {
    "an accuracy and no range": {
        "accuracy_pct": 5.0,
        "accuracy_fixed": 0.02,
        "accuracy_unit": "GOhm",
        "supplies": None,
        "greatest": None,
    },
    "nothing": {
        "accuracy_pct": None,
        "accuracy_fixed": None,
        "accuracy_unit": None,
        "supplies": None,
        "greatest": None,
    },
    "ac and dc to a level": {
        "accuracy_pct": None,
        "accuracy_fixed": None,
        "accuracy_unit": None,
        "supplies": ["ac", "dc"],
        "greatest": {"test_kv": 60},
    },
    "a supply alone": {
        "accuracy_pct": 1.0,
        "accuracy_fixed": 0.1,
        "accuracy_unit": "GOhm",
        "supplies": ["dc"],
        "greatest": {"reading": 200, "reading_unit": "GOhm"},
    },
    "its end in another unit": {
        "accuracy_pct": 1.0,
        "accuracy_fixed": None,
        "accuracy_unit": "GOhm",
        "supplies": ["dc"],
        "greatest": {"test_kv": 5, "reading": 20000, "reading_unit": "MOhm"},
    },
}


def test_what_instruments_can_do_becomes_ranges_and_back(at_work: Engine) -> None:
    config = alembic_config(url_of(at_work))
    command.downgrade(config, "0013")
    set_columns(at_work, BEFORE_RANGES)
    command.upgrade(config, "0014")
    found = {
        name: [
            (*(row[c] for c in ("does", "unit", "supply", "low", "high", "fixed")),)
            for row in ranges_of_tag(at_work, name)
        ]
        for name in BEFORE_RANGES
    }
    assert found == {
        "an accuracy and no range": [("reads", "GOhm", None, None, None, 0.02)],
        "nothing": [],
        "ac and dc to a level": [
            ("applies", "kV", "ac", 0.0, 60.0, None),
            ("applies", "kV", "dc", 0.0, 60.0, None),
        ],
        "a supply alone": [
            ("reads", "GOhm", None, 0.0, 200.0, 0.1),
            ("applies", "kV", "dc", None, None, None),
        ],
        "its end in another unit": [
            ("reads", "GOhm", None, 0.0, 20.0, None),
            ("applies", "kV", "dc", 0.0, 5.0, None),
        ],
    }
    command.downgrade(config, "0013")
    after = columns_by_tag(at_work)
    moved = {"test_kv": 5, "reading": 20, "reading_unit": "GOhm"}
    wanted = dict(BEFORE_RANGES)
    last = "its end in another unit"
    wanted[last] = {**wanted[last], "greatest": moved}
    assert {name: after[name] for name in wanted} == wanted


def test_ranges_are_not_taken_down_where_one_accuracy_cannot_say_them(
    at_work: Engine,
) -> None:
    config = alembic_config(url_of(at_work))
    with at_work.begin() as connection:
        connection.execute(
            text(
                "INSERT INTO instrument_range (instrument_id, position, does, digits) "
                "SELECT id, 9, 'reads', 3 FROM instrument WHERE tag = 'HV-1'"
            )
        )
    command.downgrade(config, "0014")
    before = rows(at_work)
    with pytest.raises(CommandError, match="1 instruments have an accuracy by range"):
        command.downgrade(config, "0013")
    assert rows(at_work) == before


def set_columns(engine: Engine, given: dict[str, dict[str, Any]]) -> None:
    """Give as many instruments as there are cases their columns, and tags to know."""
    with engine.begin() as connection:
        tags = connection.execute(text("SELECT tag FROM instrument ORDER BY tag"))
        for tag, (name, columns) in zip(tags.scalars(), given.items(), strict=False):
            values = {
                key: json.dumps(value) if isinstance(value, list | dict) else value
                for key, value in columns.items()
            }
            said = ", ".join(f"{key} = :{key}" for key in values)
            connection.execute(
                text(f"UPDATE instrument SET tag = :name, {said} WHERE tag = :tag"),
                {"name": name, "tag": tag, **values},
            )


def ranges_of_tag(engine: Engine, tag: str) -> list[dict[str, Any]]:
    """Return the ranges of an instrument in their order."""
    query = text(
        "SELECT instrument_range.* FROM instrument_range JOIN instrument "
        "ON instrument.id = instrument_id WHERE tag = :tag ORDER BY position"
    )
    with engine.connect() as connection:
        found = connection.execute(query, {"tag": tag}).mappings()
        return [dict(row) for row in found]


def columns_by_tag(engine: Engine) -> dict[str, dict[str, Any]]:
    """Return the columns that ranges took the place of, by tag."""
    names = next(iter(BEFORE_RANGES.values()))
    return {
        row["tag"]: {
            name: json_of(row[name]) if name in ("supplies", "greatest") else row[name]
            for name in names
        }
        for row in rows(engine)["instrument"]
    }


def test_judging_again_is_not_taken_down_while_a_verdict_rests_on_it(
    at_work: Engine,
) -> None:
    """Without its columns a verdict given after turnover would become the round's."""
    config = alembic_config(url_of(at_work))
    with Session(at_work, expire_on_commit=False) as session:
        work = Work.resume(session)
        work.at += timedelta(days=1)
        choose_eighty(work)
        judge_again(work)
        session.commit()
    command.downgrade(config, "0005")
    before = rows(at_work)
    with pytest.raises(CommandError, match=r"judged again.*Nothing was changed"):
        command.downgrade(config, "0004")
    assert revision(at_work) == "0005"
    assert rows(at_work) == before
    assert refuses(at_work, "DELETE FROM rejudging")
    command.upgrade(config, "head")
    with Session(at_work, expire_on_commit=False) as session:
        assert set(Work.resume(session).verdicts("bus", DW).values()) == {"within"}
        assert check_record(session).faults == []


def test_planning_is_not_taken_down_while_a_round_was_planned_otherwise(
    at_work: Engine,
) -> None:
    config = alembic_config(url_of(at_work))
    with Session(at_work, expire_on_commit=False) as session:
        desk = PlanDesk(session, now=Work.resume(session).tick(days=30))
        desk.change.leave_out([desk.key("bus", DW)], "no set on site")
        desk.open()
        session.commit()
    command.downgrade(config, PLANNING)
    before = rows(at_work)
    with pytest.raises(CommandError, match=r"left out.*Nothing was changed"):
        command.downgrade(config, BEFORE_PLANNING)
    assert rows(at_work) == before
    assert refuses(at_work, "DELETE FROM plan_change")


def test_what_was_read_by_eye_keeps_the_instrument_from_being_asked_for(
    at_work: Engine,
) -> None:
    """Below, every reading has an instrument: none can be made up."""
    config = alembic_config(url_of(at_work))
    copied = {column.name: column for column in Reading.__table__.columns}
    another = {"id": uuid4(), "instrument_id": None, "supersedes_id": None}
    with Session(at_work) as session:
        one = session.scalars(select(Reading)).first()
        assert one is not None
        row = {name: getattr(one, name) for name in copied} | another
        session.execute(Reading.__table__.insert(), [row])
        session.commit()
    before = rows(at_work)
    with pytest.raises(CommandError, match=r"1 readings were taken by eye.*Nothing"):
        command.downgrade(config, "0020")
    assert rows(at_work) == before
    assert refuses(at_work, "DELETE FROM reading")


def test_files_are_not_taken_down_while_one_is_attached(at_work: Engine) -> None:
    """Below, nothing would say what the files of the store are, and whose."""
    config = alembic_config(url_of(at_work))
    with Session(at_work, expire_on_commit=False) as session:
        put_and_withdraw(Work.resume(session), "lineup", lineup_id())
        session.commit()
    step = REVISIONS.index("0011")
    command.downgrade(config, REVISIONS[step])
    before = rows(at_work)
    assert len(before["attachment"]) == len(before["attachment_withdrawal"]) == 1
    with pytest.raises(CommandError, match=r"1 files were attached.*Nothing was"):
        command.downgrade(config, REVISIONS[step - 1])
    assert rows(at_work) == before
    command.upgrade(config, "head")
    for table in ("attachment", "attachment_withdrawal", "stored_file"):
        assert refuses(at_work, f"DELETE FROM {table}")
    with Session(at_work) as session:
        assert check_record(session).faults == []


def test_inspection_points_are_not_taken_down_once_one_is_set(at_work: Engine) -> None:
    """Below, a card would pass for one that waited for nobody."""
    config = alembic_config(url_of(at_work))
    with Session(at_work, expire_on_commit=False) as session:
        session.add_all(a_point_each(Work.resume(session)))
        session.commit()
    step = REVISIONS.index("0015")
    command.downgrade(config, REVISIONS[step])
    before = rows(at_work)
    with pytest.raises(CommandError, match=r"1 hold, witness or review.*Nothing was"):
        command.downgrade(config, REVISIONS[step - 1])
    assert rows(at_work) == before
    command.upgrade(config, "head")
    for table in ("inspection_point", "inspection_notice", "inspection_answer"):
        assert refuses(at_work, f"DELETE FROM {table}")


def test_rounds_that_were_begun_go_on_by_the_earlier_list(at_work: Engine) -> None:
    """One that nobody began is worked by its scopes; acts are not taken down."""
    config = alembic_config(url_of(at_work))
    with Session(at_work, expire_on_commit=False) as session:
        at = Work.resume(session).tick(days=30)
        begun = Work.resume(session).round_id
        new = Work.begin(session, kind="maintenance", at=at).round_id
        session.get_one(Site, fixed_id(SITE)).safety = {"shift_hours": 10.0}
        session.commit()
    command.downgrade(config, BEFORE_SAFETY)
    assert "earlier_list" not in rows(at_work)["round"][0]
    command.upgrade(config, SAFETY)
    command.upgrade(config, "head")
    with Session(at_work, expire_on_commit=False) as session:
        earlier = dict(session.execute(select(Round.id, Round.earlier_list)).all())
        assert earlier == {begun: True, new: False}
        assert session.get_one(Site, fixed_id(SITE)).safety == {}
        acting = Acting(Work(session, new, at))
        acting.keep(*one_of_each(acting))
        session.commit()
        assert check_record(session).faults == []
    command.downgrade(config, SAFETY)
    before = rows(at_work)
    with pytest.raises(CommandError, match=r"20 acts of safety.*Nothing was changed"):
        command.downgrade(config, BEFORE_SAFETY)
    assert rows(at_work) == before
    assert refuses(at_work, "DELETE FROM safety_act")
    assert refuses(at_work, "UPDATE safety_act SET code = 'G99'")


def test_what_a_tablet_holds_is_not_taken_away(at_work: Engine) -> None:
    config = alembic_config(url_of(at_work))
    command.downgrade(config, SAFETY)
    before = rows(at_work)
    command.upgrade(config, "head")
    with Session(at_work) as session:
        work = Work.resume(session)
        session.add(
            Tablet(
                id=fixed_id("tablet"),
                label="tablet 7f3a",
                program="1",
                browser="",
                first_at=work.at,
                last_at=work.at,
                last_by_id=LEAD.id,
            )
        )
        session.flush()
        session.add(
            TabletAct(
                id=uuid4(),
                tablet_id=fixed_id("tablet"),
                act="revoke",
                reason="lost",
                by_id=LEAD.id,
                at=work.at,
            )
        )
        session.commit()
    assert refuses(at_work, "DELETE FROM tablet_act")
    assert refuses(at_work, "UPDATE tablet_act SET reason = 'found'")
    with pytest.raises(CommandError, match="1 decisions about tablets were stored"):
        command.downgrade(config, SAFETY)
    after = rows(at_work)
    assert {name: after[name] for name in before} == before


def a_point_each(work: Work) -> list[Record]:
    """Return a witness point with its notice and its answer."""
    by, at = {"by_id": LEAD.id}, {"at": work.at}
    point = InspectionPoint(
        id=uuid4(),
        card_id=work.card("bus", IR).id,
        kind="witness",
        party="inspector",
        notice_hours=24.0,
        reason="clause 7.2",
        **by,
        **at,
    )
    notice = {"given_at": work.at, "work_at": work.at, "how": "by letter", **by, **at}
    return [
        point,
        InspectionNotice(id=uuid4(), point_id=point.id, **notice),
        InspectionAnswer(
            id=uuid4(), point_id=point.id, answer="present", remark="seen", **by, **at
        ),
    ]


def add_a_site(engine: Engine) -> None:
    with engine.begin() as connection:
        connection.execute(
            text(
                "INSERT INTO site (id, owner_id, name, address, zone) "
                "SELECT '0123456789abcdef0123456789abcdef', id, 'East bay', '', 'UTC' "
                "FROM organisation ORDER BY name LIMIT 1"
            )
        )


def refuses(engine: Engine, statement: str) -> bool:
    try:
        with engine.begin() as connection:
            connection.execute(text(statement))
            connection.rollback()
    except DatabaseError as error:
        return "only ever added" in str(error)
    return False


REPLACE = "INSERT OR REPLACE INTO receipt SELECT * FROM receipt"


def test_what_each_step_guards(at_work: Engine) -> None:
    config = alembic_config(url_of(at_work))
    sqlite = at_work.dialect.name == "sqlite"
    guarded = {}
    for name in REVISIONS[::-1]:
        command.downgrade(config, name) if name != REVISIONS[-1] else None
        changes = {
            refuses(at_work, f"DELETE FROM {table}")
            for table in ("signature", "receipt")
        }
        guarded[name] = (changes, refuses(at_work, REPLACE) if sqlite else None)
    assert guarded == {
        **dict.fromkeys(REVISIONS[2:], ({True}, True if sqlite else None)),
        "0002": ({True}, False if sqlite else None),
        "0001": ({False}, False if sqlite else None),
    }


def test_every_table_of_a_new_sqlite_file_is_strict_at_each_step(
    tmp_path: Path,
) -> None:
    url = sqlite_address(tmp_path / "strict.sqlite")
    for name in REVISIONS:
        command.upgrade(alembic_config(url), name)
        engine = make_engine(url)
        with engine.connect() as connection:
            loose = connection.execute(
                text(
                    "SELECT name FROM pragma_table_list WHERE type = 'table' "
                    "AND strict = 0 AND name NOT LIKE 'sqlite_%' "
                    "AND name <> 'alembic_version'"
                )
            ).scalars()
            assert loose.all() == [], name
        engine.dispose()


# A migration that fails


FAILING = '''"""Fail after having done something."""

from alembic import op
import sqlalchemy as sa

revision = "{revision}"
down_revision = "{before}"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table("half_done", sa.Column("id", sa.Integer(), primary_key=True))
    op.execute("UPDATE site SET name = 'half done'")
    op.execute("INSERT INTO no_such_table VALUES (1)")


def downgrade() -> None:
    op.drop_table("half_done")
'''


@pytest.fixture
def failing_script(tmp_path: Path) -> Path:
    """Our migrations with one more, which fails half-way."""
    folder = tmp_path / "migrations"
    shutil.copytree(
        str(files("migrations")), folder, ignore=shutil.ignore_patterns("__pycache__")
    )
    text_ = FAILING.format(revision="9999", before=REVISIONS[-1])
    (folder / "versions" / "9999_half_done.py").write_text(text_)
    return folder


def test_a_migration_that_fails_leaves_everything_as_it_was(
    at_work: Engine, failing_script: Path
) -> None:
    before = rows(at_work)
    config = Config()
    config.set_main_option("script_location", str(failing_script))
    config.attributes["url"] = url_of(at_work)
    with pytest.raises(DatabaseError, match="no_such_table"):
        command.upgrade(config, "head")
    assert revision(at_work) == REVISIONS[-1]
    assert rows(at_work) == before
    assert "half_done" not in inspect(at_work).get_table_names()
    assert refuses(at_work, "DELETE FROM receipt")
    migrate(url_of(at_work))  # and the way on is open


def test_a_failure_between_two_migrations_keeps_the_first(
    empty_url: str, failing_script: Path
) -> None:
    """One transaction a migration: what went well before stays, and says so."""
    config = Config()
    config.set_main_option("script_location", str(failing_script))
    config.attributes["url"] = empty_url
    with pytest.raises(DatabaseError, match="no_such_table"):
        command.upgrade(config, "head")
    engine = make_engine(empty_url)
    assert revision(engine) == REVISIONS[-1]
    engine.dispose()


def test_migrations_import_nothing_of_ours() -> None:
    for path in (Path(str(files("migrations"))) / "versions").glob("*.py"):
        lines = path.read_text("utf-8").splitlines()
        imports = {
            line.split()[1].split(".")[0]
            for line in lines
            if line.startswith(("import", "from"))
        }
        theirs = {"sqlalchemy", "alembic", *sys.stdlib_module_names}
        assert imports <= theirs, path.name


def test_without_a_database_named_the_environment_says_what_to_set(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv("WITNESSMARK_DATABASE", raising=False)
    config = Config()
    config.set_main_option("script_location", str(files("migrations")))
    with pytest.raises(SystemExit, match="set WITNESSMARK_DATABASE"):
        command.current(config)
