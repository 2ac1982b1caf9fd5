"""`witnessmark verify`: exit codes and words, without any database."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from models.signing import authority, seals
from tests.scenario import BEGAN, LEAD, TECHNICIAN
from tests.signed_package import Made

HOME = Path(__file__).parents[2]


@pytest.fixture
def folder(tmp_path: Path, made: Made) -> Path:
    """A folder with packages and roots in it, and nothing else."""
    changed = bytearray(made.pdf)
    changed[4000] ^= 1
    foreign = authority.create_authority("Witnessmark local authority", BEGAN)
    for name, content in {
        "good.pdf": made.pdf,
        "changed.pdf": bytes(changed),
        "performed.pdf": made.performed,
        "empty.pdf": b"",
        "rain.txt": b"rain\xff",
        "root.pem": made.root_pem.encode(),
        "foreign.pem": foreign.certificate_pem.encode(),
    }.items():
        (tmp_path / name).write_bytes(content)
    return tmp_path


def verify(folder: Path, *args: str) -> subprocess.CompletedProcess[str]:
    """Run the command as somebody would who has a package and nothing else."""
    env = {k: v for k, v in os.environ.items() if not k.startswith("WITNESSMARK_")}
    env |= {
        "PYTHONPATH": str(HOME),
        "PYTHONUTF8": "1",
        "PYTHONDONTWRITEBYTECODE": "1",
        "WITNESSMARK_DATABASE": "postgresql+psycopg://nobody@127.0.0.1:1/nothing",
        "WITNESSMARK_INSTANCE": str(folder / "instance"),
    }
    return subprocess.run(
        [sys.executable, "-m", "webapp.cli", "verify", *args],
        check=False,
        cwd=folder,
        env=env,
        capture_output=True,
        text=True,
    )


# arguments -> exit code, words on standard output, words on standard error
CASES: dict[str, tuple[list[str], int, list[str], list[str]]] = {
    "a good one": (
        ["good.pdf", "--root", "root.pem"],
        0,
        [
            "Marram pumping station, MV-1, Acceptance round 1, revision 0: CONFORMS",
            f"performed_1: {TECHNICIAN.name}",
            f"approved: {LEAD.name}",
            "7 card signatures hold",
            "Everything holds.",
        ],
        [],
    ),
    "a good one by its own root": (
        ["good.pdf"],
        0,
        ["compare the authority above", "Everything holds."],
        [],
    ),
    "a changed one": (
        ["changed.pdf"],
        1,
        ["This package does not hold."],
        ["FAULT:"],
    ),
    "one not approved": (
        ["performed.pdf"],
        1,
        ["performed_1", "does not hold."],
        ["The signature approved is missing."],
    ),
    "another authority's root": (
        ["good.pdf", "--root", "foreign.pem"],
        1,
        ["DOES NOT HOLD (the key was not issued by this authority)"],
        ["not that of the given authority"],
    ),
    "a root that is none": (
        ["good.pdf", "--root", "rain.txt"],
        1,
        ["This package does not hold."],
        ["certificate cannot be read as PEM"],
    ),
    "an empty file": (["empty.pdf"], 1, [], ["cannot be read as a package"]),
    "no pdf": (["rain.txt"], 1, [], ["cannot be read as a package"]),
    "no such file": (["none.pdf"], 2, [], ["none.pdf"]),
    "a folder": (["."], 2, [], ["."]),
    "no such root": (["good.pdf", "--root", "none.pem"], 2, [], ["none.pem"]),
    "no file named": ([], 2, [], ["FILE"]),
}


@pytest.mark.parametrize(("args", "code", "said", "warned"), CASES.values(), ids=CASES)
def test_verify(
    folder: Path, args: list[str], code: int, said: list[str], warned: list[str]
) -> None:
    before = sorted(folder.rglob("*"))
    done = verify(folder, *args)
    assert done.returncode == code, done.stderr
    assert [words for words in said if words not in done.stdout] == []
    assert [words for words in warned if words not in done.stderr] == []
    assert "Traceback" not in done.stderr
    assert sorted(folder.rglob("*")) == before  # nothing was made


def test_verify_as_json(folder: Path, made: Made) -> None:
    done = verify(folder, "good.pdf", "--root", "root.pem", "--json")
    said = json.loads(done.stdout)
    assert (done.returncode, said["ok"], said["faults"]) == (0, True, [])
    assert said["root"] == seals.fingerprint(made.root_pem) and not said["own_root"]
    assert [s["person"] for s in said["signatures"]] == [TECHNICIAN.name, LEAD.name]
    assert said["card_signatures"] == 7
    done = verify(folder, "changed.pdf", "--json")
    said = json.loads(done.stdout)
    assert (done.returncode, said["ok"]) == (1, False) and said["faults"]
