"""House rules that can be read off the text."""

import ast

import pytest

from tests.architecture.sources import (
    ROOMS,
    ROOT,
    calls,
    modules,
    project_files,
    said,
    tree,
)

EVERYWHERE = [path for room in (*ROOMS, "tests") for path in modules(room)]
BELOW_WEBAPP = modules("models")

CLOCKS_AND_DICE = {"now", "utcnow", "today", "time", "time_ns", "uuid1", "uuid4"}


def test_below_webapp_nobody_asks_for_the_time_or_makes_an_identifier() -> None:
    found = [
        f"{said(path)}:{line} {name}"
        for path in BELOW_WEBAPP
        for name, line in calls(path)
        if name.split(".")[-1] in CLOCKS_AND_DICE
    ]
    assert found == []


def test_a_service_never_commits() -> None:
    found = [
        f"{said(path)}:{line}"
        for path in modules("models")
        for name, line in calls(path)
        if name.endswith((".commit", ".rollback"))
    ]
    assert found == []


def test_no_module_is_a_drawer_for_odds_and_ends() -> None:
    drawers = {"utils", "util", "helpers", "helper", "common", "misc"}
    assert [said(p) for p in EVERYWHERE if {p.stem, p.parent.name} & drawers] == []


def test_no_class_looks_like_a_test_class() -> None:
    found = [
        f"{said(path)}: {node.name}"
        for path in EVERYWHERE
        for node in ast.walk(tree(path))
        if isinstance(node, ast.ClassDef) and node.name.startswith("Test")
    ]
    assert found == []


def test_every_error_is_named_as_one_and_says_what_it_means() -> None:
    for path in (p for room in ROOMS for p in modules(room)):
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.ClassDef) and node.name.endswith("Error"):
                assert ast.get_docstring(node), f"{said(path)}: {node.name}"


def test_nothing_is_skipped() -> None:
    """A test that does not run is not a test; a missing tool is a failure."""
    ways = {"pytest.skip", "pytest.importorskip", "pytest.xfail", "unittest.skip"}
    marks = {"skip", "skipif", "xfail"}
    found = []
    for path in modules("tests"):
        found += [f"{said(path)}:{line}" for name, line in calls(path) if name in ways]
        found += [
            f"{said(path)}:{node.lineno}"
            for node in ast.walk(tree(path))
            if isinstance(node, ast.Attribute)
            and node.attr in marks
            and ast.unparse(node.value) == "pytest.mark"
        ]
    assert found == []


def test_nothing_is_left_to_do() -> None:
    """Unfinished work is finished or said in the documents, never left in code."""
    words = ("TO" + "DO", "FIX" + "ME", "X" + "XX", "Not" + "ImplementedError")
    found = [
        f"{said(path)}: {word}"
        for path in EVERYWHERE
        for word in words
        if word in path.read_text("utf-8")
    ]
    assert found == []


MOST_LINES = 400
MIGRATIONS = ROOT / "migrations" / "versions"  # what was run is not changed again


def test_no_file_of_code_is_longer_than_four_hundred_lines() -> None:
    found = [
        f"{said(path)}: {lines}"
        for path in project_files()
        if path.suffix in {".py", ".js", ".html"}
        and not path.is_relative_to(ROOT / "tests")
        and not path.is_relative_to(MIGRATIONS)
        and "vendor" not in path.parts
        and (lines := len(path.read_text("utf-8").splitlines())) > MOST_LINES
    ]
    assert found == []


@pytest.mark.parametrize("room", ROOMS)
def test_every_function_is_annotated_in_full(room: str) -> None:
    bare = []
    for path in modules(room):
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                given = [*node.args.args, *node.args.kwonlyargs, *node.args.posonlyargs]
                unsaid = [
                    a.arg
                    for a in given
                    if a.annotation is None and a.arg not in ("self", "cls")
                ]
                if unsaid or node.returns is None:
                    bare.append(f"{said(path)}:{node.lineno} {node.name} {unsaid}")
    assert bare == []
