"""`coursekit serve`: says where it is, answers there, and says why where it can't."""

import os
import re
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from click.testing import CliRunner

from coursekit.cli.main import main
from coursekit.cli.serve import demo_lines, welcome
from coursekit.services.demo import Demo

PATIENCE = 60.0


@contextmanager
def _served(instance: Path, port: int, *options: str) -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, "-m", "coursekit.cli.main", "serve", "--port", str(port), *options]
    environment = os.environ | {"COURSEKIT_INSTANCE": str(instance), "PYTHONUNBUFFERED": "1"}
    process = subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, text=True)
    try:
        yield process
    finally:
        process.terminate()
        process.communicate(timeout=20)


def _printed(instance: Path, lines: int) -> dict[str, str]:
    """Return what a demo prints by its labels, and stop it."""
    with _served(instance, _free_port(), "--demo") as process:
        assert process.stdout is not None
        read = (process.stdout.readline().partition(":") for _line in range(lines))
        return {label: words.strip() for label, _colon, words in read}


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _first_page(port: int) -> int:
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{port}/", timeout=5) as answer:
                return int(answer.status)
        except urllib.error.URLError:
            time.sleep(0.05)
    return 0


def test_it_prints_its_address_and_answers_there(tmp_path: Path) -> None:
    port = _free_port()
    with _served(tmp_path, port) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == f"Address:    http://127.0.0.1:{port}\n"
        assert _first_page(port) == 200


def test_the_demo_prints_the_ways_in_and_starts_again_with_what_it_had(tmp_path: Path) -> None:
    first, again = (_printed(tmp_path, 5) for _start in range(2))

    assert first["Sign-in"]
    assert len(first["Password"]) >= 12
    # Eight signs of base 32, as long as the class is open.
    assert re.fullmatch(r"[0-9A-Z]{8}", first["Join code"])
    assert (again["Sign-in"], again["Join code"]) == (first["Sign-in"], first["Join code"])


def test_the_demo_prints_who_may_look_at_the_marks_of_the_first() -> None:
    assert demo_lines(Demo("wren", "words", "AB", second="tamsin"))[3:] == [
        "Assessor:   tamsin, with the same password",
    ]


def test_what_was_changed_since_is_not_printed() -> None:
    assert demo_lines(Demo("wren", None, None)) == [
        "Sign-in:    wren",
        "Password:   the one that was set since",
        "Join code:  none, for no class is open",
    ]


def test_a_port_that_is_taken_ends_with_2(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COURSEKIT_INSTANCE", str(tmp_path))
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        result = CliRunner().invoke(main, ["serve", "--port", str(taken.getsockname()[1])])

    assert result.exit_code == 2
    assert "nothing can listen on 127.0.0.1" in result.stderr


@pytest.mark.parametrize("port", ["0", "65536", "x"])
def test_a_port_that_is_none_ends_with_2(port: str) -> None:
    assert CliRunner().invoke(main, ["serve", "--port", port]).exit_code == 2


def test_this_machine_alone_is_told_how_phones_would_reach_it() -> None:
    assert welcome("127.0.0.1", 8080) == [
        "Address:    http://127.0.0.1:8080",
        "Only this machine reaches it. For phones, add --host 0.0.0.0",
    ]


def test_an_address_of_the_network_stands_as_it_was_given() -> None:
    assert welcome("192.168.7.2", 80) == ["Address:    http://192.168.7.2:80"]
    assert welcome("fd00::2", 80) == ["Address:    http://[fd00::2]:80"]
