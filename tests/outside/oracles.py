"""Run an oracle: a program of others, in the environment that is kept for them."""

import json
import os
import subprocess
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
HOW = "make oracles    (or: pip install -r .ci/lock/oracles.txt in .venv-oracles)"


class OracleMissingError(RuntimeError):
    """The environment of the oracles is not there: a failure, never a skip."""

    def __init__(self) -> None:
        super().__init__(f"the outside programs are not installed; run: {HOW}")


def interpreter() -> Path:
    """Return the Python of the oracles; OracleMissingError says how to get it."""
    for place in ("bin/python", "Scripts/python.exe"):
        found = ROOT / ".venv-oracles" / place
        if found.exists():
            return found
    raise OracleMissingError


def ask(script: str, question: Any = None) -> Any:
    """Return what *script* of this folder prints as JSON; it reads *question*."""
    outside = {k: v for k, v in os.environ.items() if k != "PYTHONPATH"}
    done = subprocess.run(
        [str(interpreter()), str(Path(__file__).with_name(script))],
        check=False,
        input=json.dumps(question),
        capture_output=True,
        text=True,
        env=outside,
    )
    if done.returncode:
        raise RuntimeError(f"{script} failed:\n{done.stderr}")
    return json.loads(done.stdout)
