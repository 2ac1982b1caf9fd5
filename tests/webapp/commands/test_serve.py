"""`witnessmark serve`: only on a database of this program's revision."""

from pathlib import Path

import click
import pytest
from alembic import command
from click.testing import CliRunner

from tests.conftest import Stages
from webapp.cli import main
from webapp.commands.serve import refuse_other_revision
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


def test_an_empty_one_is_refused_before_anything_is_served(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("WITNESSMARK_DATABASE", f"sqlite:///{tmp_path / 'new.sqlite'}")
    monkeypatch.setenv("WITNESSMARK_SECRET", "for tests only")
    done = CliRunner().invoke(main, ["serve", "--port", "0"])
    assert done.exit_code == 1
    assert "has no tables yet" in done.output
