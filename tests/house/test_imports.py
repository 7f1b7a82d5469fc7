"""The import contracts of pyproject.toml hold."""

import logging.config
import tomllib
from pathlib import Path

import pytest
from importlinter import cli

import coursekit
from tests.house.tree import PACKAGE, ROOT


def test_every_import_contract_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    # It would silence every other logger of this process, for the tests that follow too.
    monkeypatch.setattr(logging.config, "dictConfig", lambda _settings: None)

    assert cli.lint_imports(no_cache=True) == cli.EXIT_STATUS_SUCCESS


def test_the_checked_package_is_the_one_of_this_checkout() -> None:
    assert Path(coursekit.__file__).parent == PACKAGE


def test_every_area_of_the_web_is_under_the_contract_of_independence() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    contracts = {each["id"]: each for each in settings["tool"]["importlinter"]["contracts"]}
    areas = {f"coursekit.web.{path.parent.name}" for path in PACKAGE.glob("web/*/urls.py")}

    assert set(contracts["web-areas"]["modules"]) == areas
