"""The program as an installation runs it: a process, killed and started again."""

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from tests.scenario import SECRET

ROOT = Path(__file__).parents[2]
LONGEST_START_S = 120  # where other tests keep the machine busy


@dataclass(slots=True)
class ServedProcess:
    """`witnessmark serve` on one port and database; *root* is the tree that it runs."""

    database: str
    instance: Path
    port: int
    root: Path = ROOT
    process: subprocess.Popen[bytes] | None = field(default=None)

    def start(self) -> None:
        """Start it, and wait until it answers."""
        with (self.instance / "served.log").open("ab") as log:
            command = self._command("serve", "--port", str(self.port))
            self.process = subprocess.Popen(
                command, cwd=self.root, env=self._env(), stdout=log, stderr=log
            )
        ends = time.monotonic() + LONGEST_START_S
        while time.monotonic() < ends:
            with socket.socket() as asked:
                if not asked.connect_ex(("127.0.0.1", self.port)):
                    return
            time.sleep(0.05)
        raise AssertionError("the server did not start")

    def kill(self) -> None:
        """End it in the middle of what it does."""
        if self.process:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()
            self.process = None

    def check(self) -> subprocess.CompletedProcess[str]:
        """Run `witnessmark check`, with the attached files."""
        command = self._command("check")
        return subprocess.run(
            command,
            cwd=self.root,
            env=self._env(),
            capture_output=True,
            text=True,
            check=False,
        )

    def _command(self, *words: str) -> list[str]:
        return [sys.executable, "-m", "webapp.cli", *words]

    def _env(self) -> dict[str, str]:
        return {
            **os.environ,
            "PYTHONPATH": str(self.root),
            "WITNESSMARK_INSTANCE": str(self.instance),
            "WITNESSMARK_DATABASE": self.database,
            "WITNESSMARK_SECRET": SECRET,
        }


@contextmanager
def served_process(
    database: str, instance: Path, root: Path = ROOT
) -> Iterator[ServedProcess]:
    """Serve the program on a port of its own; it is killed in the end."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    served = ServedProcess(database, instance, port, root)
    try:
        served.start()
        yield served
    finally:
        served.kill()
