"""What the import contracts of pyproject.toml leave open.

A package's own `__init__` is not an import of its children, and a library that no
contract lists is allowed everywhere: both holes are closed here.
"""

import ast
import json
import subprocess
import sys

import pytest

from tests.architecture.sources import ROOT, libraries, modules, said, tree

# The libraries that each room may import, besides the standard one and ours.
MAY_IMPORT: dict[str, set[str]] = {
    "models/judging": set(),
    "models/procedures": set(),
    "models/words": set(),
    "models/fields": set(),
    "models/criteria": set(),
    "models/record": set(),
    "models/analysis": {"distributed", "numpy", "openpyxl", "pandas", "pyarrow"},
    "models/files": {"obstore", "PIL"},
    "models/waveform": {"comtrade", "numpy"},
    "models/schema": {"sqlalchemy"},
    "models/services": {"sqlalchemy", "argon2"},
    "models/signing": {
        "argon2",
        "asn1crypto",
        "cryptography",
        "pikepdf",
        "pyhanko",
        "pyhanko_certvalidator",
    },
    "webapp/account": {"flask", "flask_login", "flask_wtf", "wtforms"},
    "webapp/field": {"flask", "flask_login", "flask_wtf", "wtforms"},
    "webapp/turnover": {"flask", "flask_login", "flask_wtf", "wtforms", "markupsafe"},
    "webapp/owner": {"flask", "flask_login", "flask_wtf", "wtforms", "markupsafe"},
    "webapp/library": {"flask", "flask_login", "flask_wtf", "wtforms", "markupsafe"},
    "webapp/files": {"flask", "flask_login", "flask_wtf", "wtforms"},
    "webapp/drawing": set(),
    "webapp/pdf": {"segno", "reportlab", "pikepdf", "PIL"},
    "migrations/versions": {"sqlalchemy", "alembic"},
}
OURS = {"models", "webapp", "seed_demo"}
COLUMN_READER = "models/judging/batch/"  # the one part of the core that knows numpy


@pytest.mark.parametrize("room", MAY_IMPORT)
def test_a_room_imports_only_the_libraries_it_may(room: str) -> None:
    found = {said(path): libraries(path) - OURS for path in modules(room)}
    assert found
    allowed = {
        name: {"numpy"} if name.startswith(COLUMN_READER) else MAY_IMPORT[room]
        for name in found
    }
    assert {
        name: extra for name, libs in found.items() if (extra := libs - allowed[name])
    } == {}


def test_every_room_of_models_has_its_list() -> None:
    rooms = {said(path.parent) for path in (ROOT / "models").glob("*/__init__.py")}
    assert rooms <= set(MAY_IMPORT)


def test_a_revision_imports_nothing_of_ours() -> None:
    assert all(
        not libraries(path) & (OURS | {"migrations"})
        for path in modules("migrations/versions")
    )


def loaded_by(statement: str) -> set[str]:
    """Return what a fresh interpreter has loaded after *statement*."""
    code = f"import json, sys; {statement}; print(json.dumps(list(sys.modules)))"
    done = subprocess.run(
        [sys.executable, "-c", code],
        check=True,
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={"PYTHONPATH": str(ROOT)},
    )
    return {name.split(".")[0] for name in json.loads(done.stdout)}


HEAVY = {
    "flask",
    "sqlalchemy",
    "alembic",
    "numpy",
    "pandas",
    "reportlab",
    "pikepdf",
    "pyhanko",
    "cryptography",
    "wtforms",
    "argon2",
    "distributed",
    "openpyxl",
    "pyarrow",
}
LIGHT: dict[str, set[str]] = {
    "import models": HEAVY,
    "import models.judging": HEAVY,
    "import models.procedures": HEAVY,
    "import models.fields": HEAVY,
    "import models.criteria": HEAVY,
    "import models.analysis": HEAVY,
    "import models.services": HEAVY,
    "import models.signing": HEAVY,
    "import models.files": HEAVY,
    "import models.waveform": HEAVY,
    "import webapp": HEAVY,
    "import seed_demo": HEAVY,
    "import migrations": HEAVY,
    # A judgement in a shell must not wait for a web server to load.
    "import webapp.cli": HEAVY,
    "import models.schema": HEAVY - {"sqlalchemy"},
    # Frames are for books, trends and studies: who asks for one waits for pandas.
    "import webapp.owner.routes": {"pandas"},
    "import models.analysis.judge_file": {"pandas"},
    "import models.analysis.judge_part": {"pandas"},
}


@pytest.mark.parametrize(("statement", "heavy"), LIGHT.items(), ids=LIGHT)
def test_a_package_starts_light(statement: str, heavy: set[str]) -> None:
    assert loaded_by(statement) & heavy == set()


def test_the_core_runs_on_the_standard_library_alone() -> None:
    loaded = loaded_by(
        "from models.criteria import load; load(); from models.procedures import judge"
    )
    standard = set(sys.stdlib_module_names) | {"models", "__main__"}
    # What an environment's own start-up files load is not ours.
    foreign = loaded - standard - loaded_by("pass")
    assert foreign == set()


def test_a_package_s_own_file_holds_no_logic() -> None:
    """An `__init__` names what the package gives; webapp's joins the parts."""
    for room in ("models", "seed_demo"):
        for path in modules(room):
            if path.name == "__init__.py":
                kinds = {type(node) for node in tree(path).body}
                allowed = {ast.Expr, ast.Import, ast.ImportFrom, ast.Assign}
                assert kinds <= allowed, said(path)
