"""`witnessmark judge` to a file, from other formats, and on a cluster."""

import csv
import gc
import json
import os
import stat
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest
from click.testing import CliRunner, Result
from distributed import LocalCluster
from openpyxl import Workbook

from webapp.commands.judge import judge_command
from webapp.commands.judge_progress import progress

ROOT = Path(__file__).resolve().parents[2]
HEAD = "id,test,gear,rated_kv,value,unit,temperature_c,test_kv\n"
GOOD = "a,insulation_resistance,metal_clad,15,5.00,GOhm,20,2.5\n"
BAD = GOOD.replace("5.00", '"4,2"')
LESS = GOOD.replace("a,", "b,", 1).replace("5.00", "4.9")


@pytest.fixture(autouse=True)
def _collecting() -> Iterator[None]:
    """The command turns the collector off for its process, which here is ours."""
    yield
    gc.enable()


@pytest.fixture
def readings(tmp_path: Path) -> Path:
    file = tmp_path / "readings.csv"
    file.write_text(HEAD + GOOD + LESS, "utf-8")
    return file


def judge(*arguments: object) -> Result:
    return CliRunner().invoke(judge_command, list(map(str, arguments)))


def verdicts(file: Path) -> list[str]:
    if file.suffix == ".csv":
        with file.open(encoding="utf-8", newline="") as text:
            return [row["verdict"] for row in csv.DictReader(text)]
    if file.suffix == ".parquet":
        return list(pq.read_table(file)["verdict"].to_pylist())
    lines = file.read_text("utf-8").splitlines()
    if file.suffix == ".txt":
        return [line.split()[2] for line in lines[1:]]
    return [json.loads(line)["verdict"] for line in lines]


@pytest.mark.parametrize("suffix", ["json", "jsonl", "ndjson", "csv", "txt", "parquet"])
def test_the_name_of_the_file_says_the_format(readings: Path, suffix: str) -> None:
    out = readings.with_name(f"out.{suffix}")
    result = judge(readings, "--out", out)
    assert (result.exit_code, result.output) == (0, "")
    assert verdicts(out) == ["within", "outside"]
    assert sorted(readings.parent.iterdir()) == sorted([out, readings])


def test_the_format_that_is_asked_for_goes_before_the_name(readings: Path) -> None:
    out = readings.with_name("out.json")
    assert judge(readings, "--format", "csv", "--out", out).exit_code == 0
    assert out.read_text("utf-8").startswith("id,test,verdict,")


def test_parquet_holds_numbers_as_numbers(readings: Path) -> None:
    out = readings.with_name("out.parquet")
    judge(readings, "--working", "--out", out)
    rows = pq.read_table(out).to_pylist()
    assert [row["value"] for row in rows] == [5.0, 4.9]
    assert [row["limit_high"] for row in rows] == [None, None]
    assert rows[1]["working"].startswith("4.9 GΩ at 20 °C × 1.000 = ")


def test_a_file_that_is_there_stays_until_the_new_one_is_whole(readings: Path) -> None:
    out = readings.with_name("out.csv")
    out.write_text("before", "utf-8")
    readings.write_text(HEAD + BAD, "utf-8")
    result = judge(readings, "--out", out)
    assert result.exit_code == 2
    assert "line 2, column value" in result.stderr
    assert out.read_text("utf-8") == "before"
    assert sorted(readings.parent.iterdir()) == sorted([out, readings])


def test_strict_writes_the_file_all_the_same(readings: Path) -> None:
    out = readings.with_name("out.csv")
    assert judge(readings, "--strict", "--out", out).exit_code == 1
    assert verdicts(out) == ["within", "outside"]


def test_a_new_file_is_as_readable_as_others(readings: Path) -> None:
    out = readings.with_name("out.csv")
    judge(readings, "--out", out)
    assert out.stat().st_mode == readings.stat().st_mode


def test_a_link_stays_one_and_the_file_keeps_its_mode(readings: Path) -> None:
    real, link = readings.with_name("real.csv"), readings.with_name("link.csv")
    real.write_text("before", "utf-8")
    real.chmod(0o640)
    link.symlink_to(real)
    assert judge(readings, "--out", link).exit_code == 0
    assert link.is_symlink()
    assert verdicts(real) == ["within", "outside"]
    assert stat.S_IMODE(real.stat().st_mode) == 0o640


def test_a_pipe_is_written_to_and_stays_one(readings: Path) -> None:
    pipe = readings.with_name("pipe.csv")
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        assert judge(readings, "--out", pipe).exit_code == 0
        assert pipe.is_fifo()
        assert os.read(reader, 99).startswith(b"id,test,verdict,")
    finally:
        os.close(reader)


def test_a_folder_that_is_not_there_is_said(readings: Path) -> None:
    out = readings.parent / "nowhere" / "out.csv"
    result = judge(readings, "--out", out)
    said = f"{out}: No such file or directory.\n"
    assert (result.exit_code, result.output) == (2, said)


@pytest.mark.slow
@pytest.mark.parametrize("out", [(), ("--format", "csv", "--out", "full.csv")])
def test_a_full_disk_is_said_in_a_line(readings: Path, out: tuple[str, ...]) -> None:
    readings.with_name("full.csv").symlink_to("/dev/full")
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "webapp.cli", "judge", readings.name, *out],
            check=False,
            stdout=full,
            stderr=subprocess.PIPE,
            cwd=readings.parent,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
        )
    assert (done.returncode, done.stderr) == (2, b"No space left on device.\n")


def test_the_checks_of_tables_are_not_written_over(readings: Path) -> None:
    checks = readings.with_name("checks.csv")
    checks.write_text("before", "utf-8")
    result = judge(readings, "--criteria", checks, "--out", checks)
    assert result.exit_code == 2
    assert "--out: this is the --criteria file." in result.stderr
    assert checks.read_text("utf-8") == "before"


MISTAKES = {
    "a name that says no format": (("--out", "out.doc"), "ends in none of .json"),
    "the file that is read": (("--out", "readings.csv"), "the file that is read"),
    "parquet to a terminal": (("--format", "parquet"), "name it with --out"),
    "a sheet of a text": (("--sheet", "A"), "Only a workbook has sheets"),
    "nobody at the address": (("--scheduler", "tcp://127.0.0.1:9"), "--scheduler: "),
}


@pytest.mark.parametrize(("options", "said"), MISTAKES.values(), ids=MISTAKES)
def test_a_mistake_is_said_and_nothing_written(
    readings: Path,
    options: tuple[str, ...],
    said: str,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(readings.parent)
    monkeypatch.setattr("models.analysis.cluster.WAIT", "1s")
    result = judge(readings, *options)
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in " ".join(result.stderr.split())
    assert os.listdir(readings.parent) == ["readings.csv"]


RANGES = "0..5 GOhm: 1%; 5..10 GOhm: 5% + 3 digits of 0.01"


def test_a_workbook_and_parquet_are_judged_as_the_text(readings: Path) -> None:
    """Accuracies by range among them."""
    head, row = HEAD.strip() + ",accuracy", GOOD.strip()
    more = [row.replace("5.00", value) for value in ("4.9", "5.1", "9", "11")]
    ids = [line.replace("a,", f"r{at},", 1) for at, line in enumerate(more)]
    lines = [head, f"{row},", *(f"{line},{RANGES}" for line in ids)]
    readings.write_text("\n".join(lines), "utf-8")
    cells = list(csv.reader(lines))
    sheet = Workbook()
    for one in cells:
        sheet.active.append(one)
    sheet.save(readings.with_name("readings.xlsx"))
    columns = dict(zip(cells[0], map(list, zip(*cells[1:], strict=True)), strict=True))
    pq.write_table(pa.table(columns), readings.with_name("readings.parquet"))
    wanted = judge(readings).stdout
    found = [one["verdict"] for one in map(json.loads, wanted.splitlines())]
    assert found == ["within", "outside", "marginal", "within", "unjudged"]
    assert judge(readings.with_name("readings.xlsx")).stdout == wanted
    assert judge(readings.with_name("readings.parquet")).stdout == wanted


@pytest.mark.slow
def test_a_cluster_writes_the_same_file(readings: Path) -> None:
    outs = [readings.with_name("here.csv"), readings.with_name("there.csv")]
    with LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address="127.0.0.1:0"
    ) as workers:
        address = workers.scheduler_address
        judge(readings, "--out", outs[0])
        result = judge(readings, "--scheduler", address, "--out", outs[1])
    assert result.exit_code == 0
    assert outs[1].read_bytes() == outs[0].read_bytes()


def test_the_bar_says_how_fast_it_goes(capsys: pytest.CaptureFixture[str]) -> None:
    ticks = iter([0.0, 2.0, 4.0])
    with progress("Judging", 90_000, shown=True, clock=lambda: next(ticks)) as reached:
        reached(30_000, 30_000)
        reached(90_000, 90_000)
    assert "Judging" in capsys.readouterr().err


def test_rows_are_counted_where_nobody_knows_how_many_there_are(
    capsys: pytest.CaptureFixture[str],
) -> None:
    ticks = iter([0.0, 2.0])
    with progress("Reading", None, shown=True, clock=lambda: next(ticks)) as reached:
        reached(0, 30_000)
    said = capsys.readouterr().err.split("\r")[-1].strip()
    assert said == "Reading  30 000 rows; 15 000 a second"


@pytest.mark.parametrize(("length", "shown"), [(90_000, False), (12, True)])
def test_no_bar_where_none_is_wanted(
    length: int, shown: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    with progress("Judging", length, shown=shown) as reached:
        reached(length, length)
    assert capsys.readouterr().err == ""
