"""The run itself: it stops at a failure, and never leaves anything out in silence."""

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from tests.run import __main__ as run
from tests.run import stages, tools

ROOT = Path(__file__).resolve().parents[2]
ABSENT = tools.Tool(
    name="gauge",
    packages=("gauge-utils",),
    present=lambda: False,
    what="the check by gauge",
)


def stage(name: str, status: int) -> stages.Stage:
    return stages.Stage(name, lambda: status)


def test_the_run_stops_at_the_first_stage_that_fails() -> None:
    done = stages.run([stage("one", 0), stage("two", 3), stage("three", 0)])
    assert [(d.name, d.status) for d in done] == [("one", 0), ("two", 3)]


LATER = "import time; time.sleep(0.2)"  # so that one waits while another fails
BESIDE: dict[str, tuple[list[int], int]] = {
    "all pass": ([0, 0, 0], 0),
    "the first fails": ([3, 0, 0], 3),
    "the last fails": ([0, 0, 5], 5),
    "two fail": ([0, 4, 5], 4),
}


@pytest.mark.parametrize(("ends", "status"), BESIDE.values(), ids=BESIDE)
def test_programs_beside_each_other_all_run_and_are_heard(
    capfd: pytest.CaptureFixture[str], ends: list[int], status: int
) -> None:
    programs = [
        ["python", "-c", f"{LATER}; print('said', {n}); raise SystemExit({end})"]
        for n, end in enumerate(ends)
    ]
    assert stages.in_turn(programs) == status
    said = capfd.readouterr().out.splitlines()
    assert sorted(line for line in said if line.startswith("said")) == [
        f"said {n}" for n, _ in enumerate(ends)
    ]


def test_every_test_file_is_in_one_part() -> None:
    """By the folders and what is left out: a mark alone decides for browser tests."""
    browser, *parts = stages.parts_of_the_tests()
    assert browser == ["-m", "browser", "tests/browser"]
    assert all(words[:2] == ["-m", "not browser"] for words in parts)
    files = [file.relative_to(ROOT) for file in (ROOT / "tests").rglob("test_*.py")]
    assert len(files) > 300
    for file in files:
        assert [_has(words[2:], file) for words in parts].count(True) == 1, file


def _has(words: list[str], file: Path) -> bool:
    """Return whether pytest, told this, looks into the file."""
    folders = [word for word in words if not word.startswith("--")] or ["tests"]
    left_out = [word.removeprefix("--ignore=") for word in words if word[:2] == "--"]
    assert all((ROOT / folder).is_dir() for folder in [*folders, *left_out])
    return any(map(file.is_relative_to, folders)) and not any(
        map(file.is_relative_to, left_out)
    )


def test_what_drives_the_browser_lies_in_the_folder_of_that_part() -> None:
    marked = [
        file
        for file in (ROOT / "tests").rglob("test_*.py")
        if "pytest.mark.browser" in file.read_text("utf-8") and file != Path(__file__)
    ]
    assert len(marked) > 50
    assert {file.parent for file in marked} == {ROOT / "tests" / "browser"}


REPORTS: dict[str, tuple[list[int], list[tools.Tool], int, str]] = {
    # statuses, what is missing, exit status, the last line
    "all passed": ([0, 0], [], 0, "Every stage passed."),
    "one failed": ([0, 2], [], 1, "Stopped: stage 1 failed (status 2)."),
    "passed without a tool": (
        [0],
        [ABSENT],
        0,
        "Every stage passed. Not all was run: see above.",
    ),
}


@pytest.mark.parametrize(
    ("statuses", "absent", "status", "last"), REPORTS.values(), ids=REPORTS
)
def test_the_report(
    capsys: pytest.CaptureFixture[str],
    statuses: list[int],
    absent: list[tools.Tool],
    status: int,
    last: str,
) -> None:
    done = [stages.Done(f"stage {n}", 1.5, s) for n, s in enumerate(statuses)]
    assert run.report(done, absent) == status
    lines = capsys.readouterr().out.splitlines()
    assert lines[-1] == last
    assert any(line.split()[:3] == ["stage", "0", "1.5"] for line in lines)
    assert any("gauge-utils" in line for line in lines) is bool(absent)


def test_under_ci_a_missing_tool_fails_before_anything_is_run(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(tools, "TOOLS", (replace(ABSENT, packages=()),))
    monkeypatch.setenv("CI", "true")
    assert run.main("all") == 1
    said = capsys.readouterr().out
    assert "NOT RUN: the check by gauge. gauge is missing" in said
    assert "==" not in said


@pytest.mark.slow
def test_what_needs_a_missing_tool_is_left_out_and_counted() -> None:
    done = subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "-q",
            "-p",
            "no:cacheprovider",
            "--without=postgres",
            "tests/test_databases.py",
        ],
        check=False,
        capture_output=True,
        text=True,
        cwd=ROOT,
    )
    assert done.returncode == 0, done.stdout
    assert "NOT RUN: 2 tests, without postgres" in done.stdout
    assert "2 passed, 2 deselected" in done.stdout
