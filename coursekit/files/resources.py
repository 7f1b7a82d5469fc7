"""Where files stand: those that come with the program, and those of this installation."""

from __future__ import annotations

import os
from pathlib import Path

from coursekit.problems import CoursekitError

PACKAGE = Path(__file__).resolve().parents[1]
BUNDLED = "_bundled"
INSTANCE = "instance"


class MissingResource(CoursekitError):
    """A folder that comes with the program is not there: it was installed in part."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(name)

    def __str__(self) -> str:
        return f"The folder {self.name} of coursekit is not there. Install it again."


def resource_dir(name: str, package: Path = PACKAGE) -> Path:
    """Return a folder such as `scenarios` or `templates`.

    An installed package carries it inside; in a checkout it stands beside
    pyproject.toml.
    """
    bundled = package / BUNDLED / name
    if bundled.is_dir():
        return bundled
    beside = package.parent / name
    if (package.parent / "pyproject.toml").is_file() and beside.is_dir():
        return beside
    raise MissingResource(name)


def instance_folder() -> Path:
    """Return the folder that `COURSEKIT_INSTANCE` names, else `instance` of the checkout."""
    named = os.environ.get("COURSEKIT_INSTANCE")
    if named:
        return Path(named).resolve()
    try:
        return resource_dir(INSTANCE)
    except MissingResource:
        return Path.cwd() / INSTANCE
