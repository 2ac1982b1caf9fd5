"""What must not, and what must, be in the repository and in the package."""

import re
import tomllib
from pathlib import Path

import pytest

from tests.architecture.sources import ROOT, project_files, said

# Written in halves, so that this file does not find itself.
MACHINE = re.compile(
    "|".join(
        [
            "/ro" + "ot/",
            "/wo" + "rk/",
            "/ho" + r"me/\w",
            "/opt/py" + "pi",
            "/Us" + r"ers/\w",
            "C:" + r"\\Us" + "ers",
        ]
    )
)
REGISTRIES = re.compile(
    "|".join(
        [
            "pypi" + r"\.org",
            "python" + "hosted",
            "npm" + r"js\.(org|com)",
            "--index" + "-url",
            "--extra-index" + "-url",
            "--find" + "-links",
        ]
    )
)
TEXT = {
    ".py",
    ".md",
    ".toml",
    ".txt",
    ".in",
    ".js",
    ".mjs",
    ".css",
    ".html",
    ".json",
    ".svg",
    ".csv",
    ".mako",
    ".webmanifest",
    ".yml",
    ".yaml",
    "",
}


def texts() -> list[tuple[str, str]]:
    found = []
    for path in project_files():
        if path.suffix in TEXT:
            found.append((said(path), path.read_text("utf-8")))
    return found


@pytest.mark.parametrize(
    "pattern", [MACHINE, REGISTRIES], ids=["a machine's path", "a registry's address"]
)
def test_no_file_names(pattern: re.Pattern[str]) -> None:
    found = [
        f"{name}: {match.group()}"
        for name, text in texts()
        for match in pattern.finditer(text)
    ]
    assert found == []


def test_every_text_is_utf_8_with_bare_newlines() -> None:
    assert [name for name, text in texts() if "\r" in text] == []


# Pages must work where there is no network at all, and under a strict policy.
OUTSIDE = re.compile(r"(?:src|href|url\(|import|from)\W{1,3}(?:https?:)?//[\w.-]+")


def test_no_page_loads_anything_from_elsewhere() -> None:
    found = [
        f"{name}: {match.group()}"
        for name, text in texts()
        if name.startswith("webapp/") and name.endswith((".html", ".js", ".css"))
        for match in OUTSIDE.finditer(text)
    ]
    assert found == []


INLINE = re.compile(
    r"<script(?![^>]*\bsrc=)[^>]*>|<style|\sstyle=\"|\son\w+=\"|\"javascript:",
    re.IGNORECASE,
)
DATA_BLOCK = re.compile(r"<script type=\"application/json\"")


def test_no_template_has_script_or_style_inside() -> None:
    """The content security policy allows none; a block of JSON data is no script."""
    found = [
        f"{name}: {match.group()}"
        for name, text in texts()
        if name.startswith("webapp/") and name.endswith(".html")
        for match in INLINE.finditer(text)
        if not DATA_BLOCK.match(match.group())
    ]
    assert found == []


def test_the_top_level_is_what_the_design_says() -> None:
    allowed = {
        ".ci",
        ".gitignore",
        "DEVELOPERS.md",
        "Makefile",
        "README.md",
        "docs",
        "migrations",
        "models",
        "pyproject.toml",
        "seed_demo",
        "tests",
        "webapp",
    }
    assert {said(path).split("/")[0] for path in project_files()} <= allowed


def packaged(name: str, patterns: list[str]) -> set[Path]:
    return {file for pattern in patterns for file in (ROOT / name).glob(pattern)}


def test_an_installed_program_has_every_file_it_reads() -> None:
    """Python files of packages come along by themselves; the rest must be listed."""
    setup = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    data = setup["tool"]["setuptools"]["package-data"]
    listed = {file for name in data for file in packaged(name, data[name])}
    left = [
        said(path)
        for path in project_files()
        if said(path).split("/")[0] in data
        and not (path.suffix == ".py" and (path.parent / "__init__.py").exists())
        and path not in listed
    ]
    assert left == []


def test_locks_hold_hashes_and_exact_versions() -> None:
    for name in ("run", "test", "oracles"):
        lines = (ROOT / ".ci" / "lock" / f"{name}.txt").read_text("utf-8").splitlines()
        pins = [line for line in lines if line and not line.startswith((" ", "#"))]
        assert pins
        assert all("==" in pin and pin.endswith("\\") for pin in pins), name
        assert sum("--hash=sha256:" in line for line in lines) >= len(pins)
