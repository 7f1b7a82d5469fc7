"""Files stay small and their names say what they hold."""

import tomllib
from pathlib import Path

import pytest

from tests.house.tree import PACKAGE, ROOT, TESTS, name_of, python_files, template_files

SAYS_NOTHING = {"utils", "util", "helpers", "helper", "common", "misc", "manager", "managers"}
WEB_AREAS = sorted(path.parent for path in PACKAGE.glob("web/*/views.py"))
ASKED_FOR_BY_PATH = {"tests/browser", "tests/benchmarks"}


def _too_long(files: list[Path], cap: int) -> dict[str, int]:
    lengths = {name_of(path): len(path.read_text("utf-8").splitlines()) for path in files}
    return {name: length for name, length in lengths.items() if length > cap}


def test_no_module_is_over_400_lines() -> None:
    assert _too_long(python_files(PACKAGE), 400) == {}


def test_no_test_file_is_over_500_lines() -> None:
    assert _too_long(python_files(TESTS), 500) == {}


def test_no_template_is_over_150_lines() -> None:
    assert _too_long(template_files(), 150) == {}


def test_no_module_or_package_has_a_name_that_says_nothing() -> None:
    paths = [*PACKAGE.rglob("*"), *TESTS.rglob("*")]
    words = {name_of(path): set(path.stem.split("_")) for path in paths}

    assert [name for name, parts in words.items() if parts & SAYS_NOTHING] == []


def test_the_top_level_holds_what_a_newcomer_expects_and_no_more() -> None:
    expected = {"README.md", "DEVELOPERS.md", "pyproject.toml"}
    expected |= {"coursekit", "scenarios", "templates", "tests", "instance"}
    made_by_tools = {"build", "dist"}

    visible = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert visible - made_by_tools - {f"{PACKAGE.name}.egg-info"} == expected


def test_every_folder_of_tests_is_run_or_is_asked_for_by_its_path() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    run = set(settings["tool"]["pytest"]["ini_options"]["testpaths"])
    folders = {name_of(path.parent) for path in TESTS.rglob("test_*.py")}

    top = {"/".join(folder.split("/")[:2]) for folder in folders}
    assert top - run == ASKED_FOR_BY_PATH & top


@pytest.mark.parametrize(
    "area", sorted(p.parent for p in PACKAGE.glob("web/*/views.py")), ids=name_of
)
def test_every_area_of_the_web_has_the_same_files(area: Path) -> None:
    assert {path.name for path in area.glob("*.py")} >= {"urls.py", "views.py", "pages.py"}
