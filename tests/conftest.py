"""What every test may ask for: criteria, databases, a session, quick passwords."""

import gc
import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path
from uuid import uuid4

import hypothesis
import pytest
from sqlalchemy import Engine, create_engine, make_url, text
from sqlalchemy.orm import Session

from models.criteria import load
from models.judging import Criteria
from models.schema import engine as schema_engine
from models.schema.engine import make_engine
from models.services.people import passwords
from models.signing import wrapping
from tests import postgres
from tests.laws import PROFILE, THOROUGH
from tests.scenario import STAGES, Work
from tests.signed_package import Made, make_package
from webapp.migrating import migrate

# Laws are tried on the same inputs at every run under CI, on new ones at the desk;
# on fewer of them than `make thorough` takes, but every law in both.
EXAMPLES = {"house": 30, "thorough": 200}
for profile, examples in EXAMPLES.items():
    hypothesis.settings.register_profile(
        profile,
        deadline=None,
        derandomize=bool(os.environ.get("CI")),
        max_examples=examples,
    )
hypothesis.settings.load_profile(PROFILE)

MARKS = {"browser": "chromium", "postgres": "postgres"}


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--without",
        action="append",
        default=[],
        metavar="TOOL",
        help="leave out, and say so, what needs TOOL: "
        "chromium, firefox, postgres, poppler, nss",
    )


def pytest_collection_modifyitems(
    config: pytest.Config, items: list[pytest.Item]
) -> None:
    """Leave out what needs a tool that is said to be missing; never by itself.

    What no database changes runs on SQLite; on PostgreSQL too when thorough.
    """
    if not THOROUGH:
        again = [item for item in items if _repeats(item)]
        config.stash[REPEATED] = len(again)
        config.hook.pytest_deselected(items=again)
        items[:] = [item for item in items if not _repeats(item)]
    absent = set(config.getoption("--without"))
    left_out = [item for item in items if needs(item) & absent]
    config.stash[LEFT_OUT] = len(left_out)
    if left_out:
        config.hook.pytest_deselected(items=left_out)
        items[:] = [item for item in items if not needs(item) & absent]


def pytest_configure() -> None:
    """Look for no garbage while tests are collected: there is none."""
    gc.disable()


def pytest_collection_finish() -> None:
    """Keep ten thousand tests out of the collector's way: they stay to the end."""
    gc.collect()
    gc.freeze()
    gc.enable()


LEFT_OUT = pytest.StashKey[int]()
REPEATED = pytest.StashKey[int]()


def _repeats(item: pytest.Item) -> bool:
    """Return whether PostgreSQL would only say again what SQLite says."""
    marks = ("any_database", "postgres")
    return all(item.get_closest_marker(mark) is not None for mark in marks)


def needs(item: pytest.Item) -> set[str]:
    """Return the tools that the test drives, by its marks."""
    named = {tool for mark in item.iter_markers("needs") for tool in mark.args}
    return named | {
        tool for mark, tool in MARKS.items() if item.get_closest_marker(mark)
    }


def pytest_terminal_summary(
    terminalreporter: pytest.TerminalReporter, config: pytest.Config
) -> None:
    if repeated := config.stash.get(REPEATED, 0):
        terminalreporter.write_line(
            f"On SQLite alone: {repeated} tests that no database changes; "
            "make thorough runs them on PostgreSQL too"
        )
    count = config.stash.get(LEFT_OUT, 0)
    if count:
        absent = ", ".join(config.getoption("--without"))
        terminalreporter.write_line(f"NOT RUN: {count} tests, without {absent}")


DURABLE = schema_engine.SYNCHRONOUS  # as the program has it


@pytest.fixture(scope="session", autouse=True)
def _quick() -> Iterator[None]:
    """Hash and wrap at the least cost, and wait for no disk: the algorithms stay."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(schema_engine, "SYNCHRONOUS", "OFF")
        patch.setattr(passwords, "FULL", passwords.QUICK)
        for name, least in (("MEMORY_KIB", 8), ("PASSES", 1), ("LANES", 1)):
            patch.setattr(wrapping, name, least)
        yield


@pytest.fixture(scope="session", autouse=True)
def _own_instance(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep the tests away from an instance folder that is in use."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("WITNESSMARK_INSTANCE", str(tmp_path_factory.mktemp("instance")))
        for name in ("WITNESSMARK_DATABASE", "WITNESSMARK_SECRET", "WITNESSMARK_HTTPS"):
            patch.delenv(name, raising=False)
        yield


@pytest.fixture(scope="session")
def criteria() -> Criteria:
    """The published tables."""
    return load()


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty SQLite database at the newest revision, to be copied."""
    path = tmp_path_factory.mktemp("template") / "template.sqlite"
    migrate(sqlite_address(path))
    return path


@pytest.fixture
def sqlite_url(sqlite_template: Path, tmp_path: Path) -> str:
    """The address of a migrated SQLite file of the test's own."""
    path = tmp_path / "witnessmark.sqlite"
    shutil.copyfile(sqlite_template, path)
    return sqlite_address(path)


def sqlite_address(path: Path) -> str:
    """Return SQLAlchemy's address of a SQLite file."""
    return f"sqlite:///{path.as_posix()}"


@pytest.fixture(scope="session")
def pg_url() -> Iterator[str]:
    """The address of the database `postgres` on a server of the run's own."""
    with postgres.server() as url:
        yield url


@pytest.fixture(scope="session")
def pg_admin(pg_url: str) -> Iterator[Engine]:
    """An engine that may create databases."""
    engine = create_engine(pg_url, isolation_level="AUTOCOMMIT")
    yield engine
    engine.dispose()


@pytest.fixture(scope="session")
def pg_template(pg_url: str, pg_admin: Engine) -> str:
    """The name of an empty database at the newest revision, to be copied."""
    with pg_admin.connect() as connection:
        connection.execute(text("CREATE DATABASE template_wm"))
    migrate(database_address(pg_url, "template_wm"))
    return "template_wm"


@pytest.fixture
def postgres_url(pg_url: str, pg_admin: Engine, pg_template: str) -> Iterator[str]:
    """The address of a migrated PostgreSQL database of the test's own."""
    name = f"t_{uuid4().hex}"
    with pg_admin.connect() as connection:
        connection.execute(text(f"CREATE DATABASE {name} TEMPLATE {pg_template}"))
    yield database_address(pg_url, name)
    with pg_admin.connect() as connection:
        connection.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))


@pytest.fixture
def empty_postgres_url(pg_url: str, pg_admin: Engine) -> Iterator[str]:
    """The address of a PostgreSQL database without any table."""
    name = f"e_{uuid4().hex}"
    with pg_admin.connect() as connection:
        connection.execute(text(f"CREATE DATABASE {name}"))
    yield database_address(pg_url, name)
    with pg_admin.connect() as connection:
        connection.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))


def database_address(server: str, name: str) -> str:
    """Return the address of another database on the same server."""
    return make_url(server).set(database=name).render_as_string(hide_password=False)


DATABASES = ["sqlite", pytest.param("postgres", marks=pytest.mark.postgres)]


@pytest.fixture(params=DATABASES)
def database_url(request: pytest.FixtureRequest) -> str:
    """The address of a migrated database: a test that asks for it runs on both."""
    url: str = request.getfixturevalue(f"{request.param}_url")
    return url


@pytest.fixture
def engine(database_url: str) -> Iterator[Engine]:
    """An engine on a migrated database, on SQLite and on PostgreSQL."""
    made = make_engine(database_url)
    yield made
    made.dispose()


@pytest.fixture
def session(engine: Engine) -> Iterator[Session]:
    """A session on a migrated database, on SQLite and on PostgreSQL."""
    with Session(engine, expire_on_commit=False) as made:
        yield made


class Stages:
    """Databases at a stage of tests/scenario.py, each made when first asked for."""

    def __init__(self, copy: Callable[[str, str], str], empty: str) -> None:
        """*copy(from, to)* copies a database by name and returns its address."""
        self._copy = copy
        self._made = {"": (empty, "")}
        self._engines: dict[str, Engine] = {}

    def engine(self, stage: str) -> Engine:
        """Return the engine on the database at *stage*: it knows its statements.

        Who is done with it disposes of it: nothing may be connected while it is copied.
        """
        if stage not in self._engines:
            self._engines[stage] = make_engine(self.url(stage))
        return self._engines[stage]

    def url(self, stage: str) -> str:
        """Return the address of the database at *stage*; leave it as it is."""
        return self._at(stage)[1]

    def fresh(self, stage: str) -> str:
        """Return the address of a copy, to be written to."""
        return self._copy(self._at(stage)[0], f"copy_{uuid4().hex}")

    def _at(self, stage: str) -> tuple[str, str]:
        if stage not in self._made:
            before, act = STAGES[stage]
            name = f"stage_{uuid4().hex}"
            url = self._copy(self._at(before)[0], name)
            engine = make_engine(url)
            with Session(engine, expire_on_commit=False) as session:
                act(session)
                session.commit()
            engine.dispose()
            self._made[stage] = (name, url)
        return self._made[stage]


@pytest.fixture(scope="session")
def sqlite_stages(
    sqlite_template: Path, tmp_path_factory: pytest.TempPathFactory
) -> Stages:
    """Stages of the scenario, on SQLite."""
    folder = tmp_path_factory.mktemp("stages")
    shutil.copyfile(sqlite_template, folder / "empty")

    def copy(old: str, new: str) -> str:
        shutil.copyfile(folder / old, folder / new)
        return sqlite_address(folder / new)

    return Stages(copy, "empty")


@pytest.fixture(scope="session")
def postgres_stages(pg_url: str, pg_admin: Engine, pg_template: str) -> Stages:
    """Stages of the scenario, on PostgreSQL."""

    def copy(old: str, new: str) -> str:
        with pg_admin.connect() as connection:
            connection.execute(text(f"CREATE DATABASE {new} TEMPLATE {old}"))
        return database_address(pg_url, new)

    return Stages(copy, pg_template)


@pytest.fixture(params=DATABASES)
def stages(request: pytest.FixtureRequest) -> Stages:
    """Stages of the scenario: a test that asks for them runs on both databases."""
    found: Stages = request.getfixturevalue(f"{request.param}_stages")
    return found


@pytest.fixture
def session_at(stages: Stages) -> Iterator[Callable[[str], Session]]:
    """Return a function: a session at a stage, undone after the test.

    A commit in it is a savepoint; who needs a second connection asks for
    `engine_at`.
    """
    with ExitStack() as stack:

        def begin(stage: str) -> Session:
            engine = stages.engine(stage)
            stack.callback(engine.dispose)
            connection = stack.enter_context(engine.connect())
            stack.callback(connection.begin().rollback)
            return stack.enter_context(
                Session(
                    connection,
                    expire_on_commit=False,
                    join_transaction_mode="create_savepoint",
                )
            )

        yield begin


@pytest.fixture
def engine_at(stages: Stages) -> Iterator[Callable[[str], Engine]]:
    """Return a function: an engine on a copy of the database at a stage."""
    with ExitStack() as stack:

        def begin(stage: str) -> Engine:
            engine = make_engine(stages.fresh(stage))
            stack.callback(engine.dispose)
            return engine

        yield begin


@pytest.fixture
def place(session_at: Callable[[str], Session]) -> Session:
    """A session on the place of tests/scenario.py, before any round."""
    return session_at("place")


@pytest.fixture
def opened(session_at: Callable[[str], Session]) -> Work:
    """An acceptance round on which nothing has been done."""
    return Work.resume(session_at("opened"))


@pytest.fixture
def earlier(session_at: Callable[[str], Session]) -> Work:
    """An acceptance round that was begun before safety had scopes."""
    return Work.resume(session_at("earlier"))


@pytest.fixture
def confirmed(session_at: Callable[[str], Session]) -> Work:
    """An acceptance round whose first card is open: readings can be entered."""
    return Work.resume(session_at("confirmed"))


@pytest.fixture
def complete(session_at: Callable[[str], Session]) -> Work:
    """An acceptance round with every card within and signed."""
    return Work.resume(session_at("complete"))


@pytest.fixture
def accepted(session_at: Callable[[str], Session]) -> Work:
    """An acceptance round that the owner has accepted (its files are placeholders)."""
    return Work.resume(session_at("accepted"))


@pytest.fixture
def compared(session_at: Callable[[str], Session]) -> Work:
    """An accepted baseline, and a maintenance round that was turned over."""
    return Work.resume(session_at("compared"))


@pytest.fixture(scope="session")
def made(sqlite_stages: Stages) -> Made:
    """A package with real pages, signed by a technician and a lead."""
    engine = make_engine(sqlite_stages.fresh("complete"))
    with Session(engine, expire_on_commit=False) as session:
        package = make_package(session)
    engine.dispose()
    return package
