"""`witnessmark import-lineup`: looked at first, saved when asked to."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.conftest import Stages
from tests.scenario import LEAD, OWNER, SITE
from tests.webapp.setup.test_import import TABLE
from webapp.cli import main


@pytest.fixture
def table(
    sqlite_stages: Stages, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> Path:
    monkeypatch.setenv("WITNESSMARK_DATABASE", sqlite_stages.fresh("place"))
    monkeypatch.setenv("WITNESSMARK_SECRET", "for tests only")
    file = tmp_path / "table.csv"
    file.write_text(TABLE, "utf-8")
    return file


def run(file: Path, *more: str, person: str = LEAD.sign_in, site: str = SITE) -> Result:
    asked = ["import-lineup", str(file), "--site", site, "--person", person]
    return CliRunner().invoke(main, [*asked, *more])


def test_a_lineup_is_looked_at_saved_and_changed(table: Path) -> None:
    done = run(table)
    assert (done.exit_code, "Nothing is saved" in done.output) == (0, True), done.output
    assert "SG-9: 2 cells, 2 apparatus." in done.output
    assert "look again: 38 kV with" in done.output
    assert "The lineup SG-9 is saved." in run(table, "--save").output
    table.write_text(TABLE.replace("V-92", "V-93"), "utf-8")
    done = run(table)
    assert "Cell 2, 52-2: Serial number: V-92 -> V-93" in done.output


def test_what_is_wrong_is_said_and_nothing_is_saved(table: Path) -> None:
    table.write_text(TABLE.replace("V-92,1200", "V-91,-1"), "utf-8")
    done = run(table, "--save")
    assert done.exit_code == 2
    assert "row 9, column G: " in done.output
    assert "row 9, column H: " in done.output
    for more in ({"person": "nobody"}, {"site": "Nowhere"}, {"person": OWNER.sign_in}):
        table.write_text(TABLE, "utf-8")
        assert run(table, **more).exit_code != 0
