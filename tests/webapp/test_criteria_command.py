"""`witnessmark criteria export`: checks go where there is no database."""

from pathlib import Path

import pytest
from click.testing import CliRunner
from sqlalchemy.orm import Session

from models.criteria.checks_file import read_checks
from models.schema.engine import make_engine
from tests.conftest import Stages
from tests.scenario import LEAD, OWNER, OWNER_FIRM, TEST_FIRM
from tests.table_checking import check_rows
from webapp.cli import main

PRESSURE = "vacuum_pressure"


@pytest.fixture
def database(sqlite_stages: Stages, monkeypatch: pytest.MonkeyPatch) -> str:
    url = sqlite_stages.fresh("place")
    monkeypatch.setenv("WITNESSMARK_DATABASE", url)
    monkeypatch.setenv("WITNESSMARK_SECRET", "for tests only")
    with Session(make_engine(url)) as session:
        check_rows(session, LEAD, PRESSURE)
        check_rows(session, OWNER, "metals")
        check_rows(session, OWNER, "metals", withdrawn=["copper"], rows=["aluminium"])
        session.commit()
    return url


def export(file: Path, organisation: str) -> tuple[int, str]:
    done = CliRunner().invoke(
        main, ["criteria", "export", str(file), "--organisation", organisation]
    )
    return done.exit_code, done.output


@pytest.mark.usefixtures("database")
def test_each_organisation_exports_its_own(tmp_path: Path) -> None:
    for firm, wanted in (
        (TEST_FIRM, {PRESSURE: ["residual pressure"]}),
        (OWNER_FIRM, {"metals": ["aluminium"]}),  # the other one was withdrawn
    ):
        file = tmp_path / "checks.json"
        code, said = export(file, firm)
        assert (code, "1 row checked" in said) == (0, True), said
        found = read_checks(file.read_text("utf-8"))
        assert {key: list(rows) for key, rows in found.items()} == wanted


@pytest.mark.usefixtures("database")
def test_nobody_of_that_name(tmp_path: Path) -> None:
    file = tmp_path / "checks.json"
    code, _ = export(file, "Nobody's Testing")
    assert code != 0
    assert not file.exists()
