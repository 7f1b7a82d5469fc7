"""A course in an empty folder, and the kit commands on the database of a school."""

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sqlalchemy import URL

from coursekit.cli.main import main
from tests.databases import Databases
from tests.shell.cli.course import Course


@pytest.fixture
def course(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Course:
    monkeypatch.chdir(tmp_path)
    return Course(tmp_path)


@pytest.fixture
def url(databases: Databases, school_world: tuple[URL, object]) -> URL:
    """The database of the cast's school, a copy of the test's own."""
    return databases.copy(school_world[0])


@pytest.fixture
def kit(url: URL, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Callable[..., Result]:
    """The kit command on a school's database; another school stands on the same one."""
    monkeypatch.setenv("COURSEKIT_DATABASE_URL", url.render_as_string(hide_password=False))
    monkeypatch.setenv("COURSEKIT_INSTANCE", str(tmp_path))

    def run(*arguments: str) -> Result:
        return CliRunner().invoke(main, ["kit", *arguments, "--school", "Fernbank Recovery School"])

    return run
