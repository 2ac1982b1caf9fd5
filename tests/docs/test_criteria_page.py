"""The page on criteria pastes what two commands print."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs" / "criteria.md"


@pytest.mark.parametrize("command", ["listing", "memory"])
def test_the_page_has_what_the_command_prints(command: str) -> None:
    printed = subprocess.run(
        [sys.executable, "-X", "utf8", "-m", f"models.criteria.{command}"],
        cwd=ROOT,
        capture_output=True,
        check=True,
        encoding="utf-8",
    )
    assert printed.stderr == ""
    page = PAGE.read_text("utf-8")
    for paragraph in printed.stdout.strip().split("\n\n"):
        assert paragraph in page
