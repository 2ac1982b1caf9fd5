"""The instance's files are closed to other accounts of the machine."""

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.conftest import sqlite_address
from webapp import create_app
from webapp.cli import main
from webapp.config import load_config
from webapp.private_files import keep_private, sqlite_path


@pytest.fixture(autouse=True)
def _usual_habits() -> Iterator[None]:
    """Make files as most accounts do: readable by everybody."""
    before = os.umask(0o022)
    yield
    os.umask(before)


@pytest.fixture
def instance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An instance folder that is not there yet."""
    folder = tmp_path / "instance"
    monkeypatch.setenv("WITNESSMARK_INSTANCE", str(folder))
    return folder


def modes(folder: Path) -> dict[str, int]:
    found = [folder, *folder.iterdir()]
    return {one.name: stat.S_IMODE(one.stat().st_mode) for one in found}


def test_a_new_instance_is_private_while_it_is_used(instance: Path) -> None:
    assert CliRunner().invoke(main, ["migrate"]).exit_code == 0
    app = create_app(load_config())
    with app.extensions["engine"].begin() as connection:
        connection.exec_driver_sql("INSERT INTO alembic_version VALUES ('x')")
        found = modes(instance)
    app.extensions["engine"].dispose()
    assert found.pop("instance") == 0o700
    assert {"secret", "witnessmark.sqlite", "witnessmark.sqlite-wal"} <= set(found)
    assert set(found.values()) == {0o600}


def test_files_that_were_open_are_closed_with_a_word(
    instance: Path, caplog: pytest.LogCaptureFixture
) -> None:
    instance.mkdir()
    names = ("secret", *(f"witnessmark.sqlite{s}" for s in ("", "-wal", "-shm")))
    for name in names:
        (instance / name).write_text("x")
    keep_private(load_config().database)
    found = modes(instance)
    assert found.pop("instance") == 0o700
    assert found == dict.fromkeys(names, 0o600)
    said = [record.getMessage() for record in caplog.records]
    assert len(said) == 1 + len(names)
    assert f"{instance / 'secret'} could be read by other accounts" in said[1]
    caplog.clear()
    keep_private(load_config().database)
    assert caplog.records == []


def test_what_was_opened_to_a_group_stays_so(
    instance: Path, caplog: pytest.LogCaptureFixture
) -> None:
    instance.mkdir(mode=0o750)
    (instance / "secret").write_text("x")
    (instance / "secret").chmod(0o640)
    keep_private("postgresql://localhost/witnessmark")
    assert modes(instance) == {"instance": 0o750, "secret": 0o640}
    assert caplog.records == []


def test_a_folder_that_everybody_shares_is_left_as_it_is(
    instance: Path, caplog: pytest.LogCaptureFixture
) -> None:
    instance.mkdir()
    instance.chmod(0o1777)
    keep_private("postgresql://localhost/witnessmark")
    assert modes(instance) == {"instance": 0o1777}


ADDRESSES = {
    "a file": (sqlite_address(Path("/a/b.sqlite")), Path("/a/b.sqlite")),
    "in memory": ("sqlite:///:memory:", None),
    "without a name": ("sqlite://", None),
    "another database": ("postgresql://user@host/name", None),
}


@pytest.mark.parametrize(("address", "path"), ADDRESSES.values(), ids=ADDRESSES)
def test_the_file_of_an_address(address: str, path: Path | None) -> None:
    assert sqlite_path(address) == path
