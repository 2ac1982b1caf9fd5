"""A procedure is one file: nobody else in models and webapp names it."""

import re

import pytest

from models.procedures import PROCEDURES
from tests.architecture.sources import project_files, said

ROOMS = ("models/", "webapp/")
KINDS = {".py", ".js", ".html", ".toml", ".json", ".txt"}
# Programmes choose procedures, preconditions may be for one; a line of safety says
# "phasing tools", the trade's word, which a procedure is called by.
MAY_NAME = {
    "models/criteria/safety/lines/test_other.toml",
    "models/services/setup/programmes.toml",
    "models/criteria/preconditions.toml",
}
# They name tables, of which some are called as a procedure is, as their files are.
NAMES_TABLES = {
    "models/procedures/computed/vacuum_integrity.py",
    "webapp/library/subjects.py",
}
FOLDERS = ("models/procedures/computed", "models/procedures/declared")
FILES = [path for path in project_files() if said(path).startswith(ROOMS)]


def its_own(name: str) -> set[str]:
    return {f"{folder}/{name}.{kind}" for folder in FOLDERS for kind in ("py", "toml")}


def of_its_table(name: str) -> set[str]:
    table = f"models/criteria/tables/{name}.toml"
    return {table, *NAMES_TABLES} if table in map(said, FILES) else set()


@pytest.mark.parametrize("name", PROCEDURES)
def test_only_its_own_file_names_a_procedure(name: str) -> None:
    found = {
        said(path)
        for path in FILES
        if path.suffix in KINDS
        and said(path) not in MAY_NAME
        and re.search(rf"\b{name}\b", path.read_text("utf-8"))
    }
    assert found - its_own(name) - of_its_table(name) == set()
    own = its_own(name) & set(map(said, FILES))
    assert len(own) == 1, f"{name} has {len(own)} files that git knows (git add?)"
