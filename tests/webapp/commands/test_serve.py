"""`witnessmark serve`: only on a database of this program's revision."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path

import click
import pytest
from alembic import command

from tests.conftest import Stages, sqlite_address
from tests.scenario import SECRET
from webapp.commands.serve import (
    code_of_first_start,
    make_if_empty,
    refuse_other_revision,
)
from webapp.config import Config
from webapp.migrating import alembic_config, revisions

BEFORE = "0012"


def test_a_database_of_the_newest_revision_is_served(sqlite_stages: Stages) -> None:
    url = sqlite_stages.fresh("place")
    assert len(set(revisions(url))) == 1
    refuse_other_revision(url)


def test_an_older_one_is_refused_with_what_to_do(sqlite_stages: Stages) -> None:
    url = sqlite_stages.fresh("place")
    command.downgrade(alembic_config(url), BEFORE)
    with pytest.raises(click.ClickException) as refused:
        refuse_other_revision(url)
    assert f"at revision {BEFORE}" in refused.value.message
    assert "witnessmark migrate" in refused.value.message


def test_an_empty_one_is_made_and_asks_to_be_set_up(tmp_path: Path) -> None:
    config = Config(database=sqlite_address(tmp_path / "new.sqlite"), secret=SECRET)
    make_if_empty(config.database)
    refuse_other_revision(config.database)
    codes = {code_of_first_start(config) for _ in range(2)}
    assert len(codes) == 2  # a new one at each start
    assert all(re.fullmatch(r"[2-9A-HJ-NP-Z]{5}-[2-9A-HJ-NP-Z]{5}", c) for c in codes)


def test_where_there_are_people_no_code_is_made(sqlite_stages: Stages) -> None:
    config = Config(database=sqlite_stages.fresh("place"), secret=SECRET)
    make_if_empty(config.database)
    assert code_of_first_start(config) == ""


def test_tables_of_something_else_are_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "other.sqlite"
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE ledger (line TEXT)")
    make_if_empty(sqlite_address(path))
    with pytest.raises(click.ClickException, match="a database of its own"):
        refuse_other_revision(sqlite_address(path))
