"""What the documents paste as output is what the program prints."""

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from models.criteria import load
from models.procedures import Subject, compile_rule
from tests.webapp.pdf.sample_document import sample_document
from webapp.commands.judge import judge_command
from webapp.pdf.attachments import readings_csv

ROOT = Path(__file__).resolve().parents[2]
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]


def blocks(page: str, language: str) -> list[str]:
    """Return the fenced blocks of *language* in a page."""
    text = (ROOT / page).read_text("utf-8")
    return re.findall(rf"^```{language}\n(.*?)^```", text, re.DOTALL | re.MULTILINE)


def judged(text: str, *options: str) -> Result:
    return CliRunner().invoke(judge_command, ["-", *options], input=text)


@pytest.mark.parametrize("page", ["README.md", "docs/readings-file.md"])
def test_a_table_is_what_judge_prints(page: str) -> None:
    printed = judged(blocks(page, "csv")[0], "--format", "table")
    assert printed.exit_code == 0
    assert printed.stdout.strip() in (ROOT / page).read_text("utf-8")


def test_the_object_is_what_judge_prints() -> None:
    page = "docs/readings-file.md"
    printed = judged(blocks(page, "csv")[0]).stdout.splitlines()
    assert json.loads(blocks(page, "json")[0]) == json.loads(printed[1])


def test_the_faults_are_what_judge_says() -> None:
    page = "docs/readings-file.md"
    said = judged(blocks(page, "csv")[1])
    assert (said.exit_code, said.stdout) == (2, "")
    assert said.stderr.strip() in (ROOT / page).read_text("utf-8")


def test_the_rule_is_the_one_compiled() -> None:
    shown = json.loads(blocks("docs/judging.md", "json")[0])
    subject = Subject(gear="metal_clad", rated_kv=15.0)
    rule = compile_rule("insulation_resistance", subject, load()).to_json()
    rule["correction"]["points"] = rule["correction"]["points"][:2]
    assert shown == rule


def test_every_table_of_criteria_is_described() -> None:
    page = (ROOT / "docs" / "criteria.md").read_text("utf-8")
    assert [key for key in load().tables if f"`{key}.toml`" not in page] == []


def test_the_owner_s_script_prints_what_the_manual_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    page = "docs/manual/exports.md"
    (tmp_path / "readings.csv").write_bytes(readings_csv(sample_document()))
    monkeypatch.chdir(tmp_path)
    (script,) = blocks(page, "python")
    exec(script, {})
    assert [capsys.readouterr().out] == blocks(page, "text")


@pytest.mark.parametrize("page", PAGES, ids=lambda p: str(p.relative_to(ROOT)))
def test_links_lead_somewhere(page: Path) -> None:
    links = re.findall(r"\]\(([^)#]+)\)", page.read_text("utf-8"))
    assert [one for one in links if not (page.parent / one).exists()] == []
