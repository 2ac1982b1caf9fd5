"""`witnessmark criteria export`: checks go where there is no database."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from sqlalchemy.orm import Session

from models.criteria.checks_file import read_checks
from models.judging.rules import MEMORY_MARK
from models.schema.engine import make_engine
from tests.conftest import Stages
from tests.scenario import LEAD, OWNER, OWNER_FIRM, TEST_FIRM
from tests.table_checking import check_rows
from webapp.cli import main

PRESSURE, FACTORS = "vacuum_pressure", "insulation_correction_20"


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


# A reading that rests on the column of factors, judged with and without checks.
READING = (
    "id,test,gear,rated_kv,value,unit,temperature_c,test_kv\n"
    "a,insulation_resistance,metal_clad,15,4.00,GOhm,31,2.5\n"
    "b,contact_resistance,metal_clad,15,40,uOhm,20,\n"
)


def judge(*options: str) -> Result:
    return CliRunner().invoke(main, ["judge", "-", *options], input=READING)


@pytest.mark.parametrize("shape", ["table", "csv"])
def test_what_is_from_memory_is_marked_for_people(shape: str) -> None:
    first, second = judge("--format", shape).output.splitlines()[1:]
    assert MEMORY_MARK in first
    assert MEMORY_MARK not in second  # unjudged: no current is given


@pytest.fixture
def checks(database: str, tmp_path: Path) -> Path:
    """The firm's file: the factors confirmed, the minimum corrected."""
    with Session(make_engine(database)) as session:
        check_rows(session, LEAD, FACTORS)
        corrected = {"15 kV class": {"minimum": "7000"}}
        check_rows(session, LEAD, "insulation_minimum", corrected=corrected)
        session.commit()
    file = tmp_path / "checks.json"
    assert export(file, TEST_FIRM)[0] == 0
    return file


def test_judging_with_the_checks_of_an_organisation(checks: Path) -> None:
    def first(*options: str) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(judge(*options).output.splitlines()[0])
        return found

    plain, checked = first(), first("--criteria", str(checks))
    assert (plain["verdict"], plain["limit_low"]) == ("within", 5000.0)
    assert (checked["verdict"], checked["limit_low"]) == ("outside", 7000.0)
    said = {cite["row"]: cite["provenance"] for cite in checked["cite"]}
    assert said == {"column solid": "confirmed", "15 kV class": "corrected"}
    for shape in ("table", "csv"):
        done = judge("--format", shape, "--criteria", str(checks))
        assert MEMORY_MARK not in done.output


def test_a_check_that_holds_no_longer_is_named_and_not_used(checks: Path) -> None:
    whole = json.loads(checks.read_text("utf-8"))
    for check in whole["checks"]:
        check["digest"] = "0" * 64
    checks.write_text(json.dumps(whole), "utf-8")
    done = judge("--criteria", str(checks))
    assert done.exit_code == 0
    assert done.stdout == judge().stdout
    assert "insulation_minimum, 15 kV class: another figure is shipped" in done.stderr


@pytest.mark.parametrize("content", [b"{}", b"\xff\xfe"], ids=["empty", "no UTF-8"])
def test_a_file_of_checks_that_cannot_be_read(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "checks.json"
    file.write_bytes(content)
    done = judge("--criteria", str(file))
    assert (done.exit_code, done.stdout) == (2, "")
    assert "checks.json: " in done.stderr
