"""The import contracts of pyproject.toml hold."""

from pathlib import Path

import pytest
from importlinter import cli

import coursekit
from tests.house.tree import PACKAGE, ROOT


def test_every_import_contract_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)

    assert cli.lint_imports(no_cache=True) == cli.EXIT_STATUS_SUCCESS


def test_the_checked_package_is_the_one_of_this_checkout() -> None:
    assert Path(coursekit.__file__).parent == PACKAGE
