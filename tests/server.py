"""The program as its users start it: `coursekit serve --demo`, on a free port."""

from __future__ import annotations

import os
import re
import socket
import subprocess
import sys
import threading
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

PATIENCE = 180.0


@dataclass(frozen=True)
class School:
    """A running school: its address and what was printed for the people at the start."""

    address: str
    printed: str
    instance: Path
    pid: int

    @property
    def sign_in_name(self) -> str:
        """The name of the demo instructor."""
        return self.printed_after("Sign-in")

    @property
    def password(self) -> str:
        """The password of the demo instructor."""
        return self.printed_after("Password")

    @property
    def join_code(self) -> str:
        """The code of the class that is open to join."""
        return self.printed_after("Join code")

    def printed_after(self, label: str) -> str:
        """Return the text that stands after a label in what `serve` printed."""
        found = re.search(rf"^{label}:\s+(.*\S)", self.printed, re.MULTILINE)
        assert found, f"serve printed no {label}:\n{self.printed}"
        return found.group(1)


def free_port() -> int:
    """Return a port that nobody listens on just now."""
    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        port: int = sock.getsockname()[1]
        return port


@contextmanager
def running(instance: Path, *options: str) -> Iterator[School]:
    """Run the app in its own process until the block ends."""
    port = free_port()
    command = [sys.executable, "-m", "coursekit.cli.main", "serve", *options, "--port", str(port)]
    environment = os.environ | {"COURSEKIT_INSTANCE": str(instance), "PYTHONUNBUFFERED": "1"}
    process = subprocess.Popen(
        command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    printed: list[str] = []
    reader = threading.Thread(target=lambda: printed.extend(process.stdout or ()), daemon=True)
    reader.start()
    address = f"http://127.0.0.1:{port}"
    try:
        wait_for(address, process, printed)
        yield School(address, "".join(printed), instance, process.pid)
    finally:
        process.terminate()
        process.wait(timeout=20)
        reader.join(timeout=5)
        if process.stdout:
            process.stdout.close()


def wait_for(address: str, process: subprocess.Popen[str], printed: list[str]) -> None:
    """Return when the first page answers."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        assert process.poll() is None, "".join(printed)
        try:
            with urllib.request.urlopen(address, timeout=5):
                return
        except OSError:
            time.sleep(0.05)
    message = f"No page after {PATIENCE} s:\n{''.join(printed)}"
    raise TimeoutError(message)
