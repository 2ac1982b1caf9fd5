"""A line between a tablet and its server that breaks in the middle of what it carries.

It is cut by what has passed, not by the clock: so a request is lost half sent, or taken
in with its answer lost, wherever the count falls.
"""

import socket
import struct
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from threading import Event, RLock, Thread

AT_ONCE = 65536
RESET = struct.pack("ii", 1, 0)  # close with a reset: nothing more is delivered
Break = Callable[[], None]


class Line:
    """Carries bytes both ways while it is up."""

    def __init__(self, server_port: int) -> None:
        """Listen on a port of its own, and carry to *server_port*."""
        self.server_port = server_port
        self.listening = socket.create_server(("127.0.0.1", 0))
        self.url = f"http://127.0.0.1:{self.listening.getsockname()[1]}"
        self.up = True
        self.lock = RLock()
        self.open: set[socket.socket] = set()
        self.passed = 0
        self.left: int | None = None
        self.what: Break = self.cut
        self.broke = Event()

    def cut(self) -> None:
        """Reset every connection, and refuse new ones until it is mended."""
        with self.lock:
            self.up = False
            for one in list(self.open):
                self._reset(one)

    def mend(self) -> None:
        """Carry again."""
        self.up = True

    def break_after(self, count: int, what: Break | None = None) -> None:
        """Do *what* (by default: cut) once *count* more bytes have passed."""
        self.broke.clear()
        self.what, self.left = what or self.cut, count

    def serve(self) -> None:
        """Take in connections until the socket is closed."""
        while True:
            try:
                near, _ = self.listening.accept()
            except OSError:
                return
            Thread(target=self._connect, args=(near,), daemon=True).start()

    def _connect(self, near: socket.socket) -> None:
        with suppress(OSError), self.lock:
            if self.up:
                far = socket.create_connection(("127.0.0.1", self.server_port))
                self.open |= {near, far}
                for pair in ((near, far), (far, near)):
                    Thread(target=self._carry, args=pair, daemon=True).start()
                return
        self._reset(near)

    def _carry(self, source: socket.socket, target: socket.socket) -> None:
        with suppress(OSError):
            while data := source.recv(AT_ONCE):
                target.sendall(self._let_pass(data))
        for one in (source, target):
            self._reset(one)

    def _let_pass(self, data: bytes) -> bytes:
        """Return what passes of *data*; where the count ends in it, it breaks there."""
        with self.lock:
            self.passed += len(data)
            if self.left is None or len(data) < self.left:
                self.left = None if self.left is None else self.left - len(data)
                return data
            passes, self.left = data[: self.left], None
            self.what()
            self.broke.set()
            return passes

    def _reset(self, one: socket.socket) -> None:
        with suppress(OSError):
            one.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, RESET)
            one.shutdown(socket.SHUT_RDWR)
        with suppress(OSError):
            one.close()
        self.open.discard(one)


@contextmanager
def line_to(server_port: int) -> Iterator[Line]:
    """Lay a line to a server."""
    line = Line(server_port)
    thread = Thread(target=line.serve, daemon=True)
    thread.start()
    try:
        yield line
    finally:
        line.cut()
        line.listening.shutdown(socket.SHUT_RDWR)
        line.listening.close()
        thread.join()
