"""A course in an empty folder."""

from pathlib import Path

import pytest

from tests.shell.cli.course import Course


@pytest.fixture
def course(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Course:
    monkeypatch.chdir(tmp_path)
    return Course(tmp_path)
