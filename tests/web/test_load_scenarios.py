"""Scenario files come into a school when it is set up, and whenever an instructor loads them."""

from pathlib import Path

import pytest

from coursekit.files.resources import resource_dir
from tests.shell.files.ford import FILE, FORD
from tests.web.test_set_up_school import FILLED, first_visit
from tests.web.visitor import Visitor

__all__ = ["first_visit"]

FILES = sorted(resource_dir("scenarios").glob("*.yaml"))


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where the scenario files lie in this test: one of them, which is already loaded."""
    monkeypatch.setattr("coursekit.services.preparing.resource_dir", lambda _name: tmp_path)
    (tmp_path / FILE).write_text(FORD, encoding="utf-8")
    return tmp_path


def test_a_new_school_has_every_scenario_that_comes_with_the_program(first_visit: Visitor) -> None:
    first_visit.send(**FILLED).open("/scenarios")

    assert first_visit.heading == f"{len(FILES)} scenarios to choose from"


def test_loading_adds_what_is_new_and_leaves_the_rest(instructor: Visitor) -> None:
    instructor.open("/scenarios").send()

    assert instructor.path == "/scenarios"
    # The school of the cast has a ford-exit of its own, so all files are new to it.
    assert f"{len(FILES)} scenarios are new or changed." in instructor.html
    instructor.send()
    assert "0 scenarios are new or changed." in instructor.html


def test_every_mistake_of_the_files_is_shown_and_none_is_loaded(
    instructor: Visitor, folder: Path
) -> None:
    bad = FORD.replace("mass: 2650 kg", "mass: 2650 kN").replace("id: ford-exit", "id: other")
    (folder / "other.yaml").write_text(bad, encoding="utf-8")

    instructor.open("/scenarios").send()
    assert instructor.status == 422
    assert "other.yaml" in instructor.html
    assert "stuck_vehicle.mass" in instructor.html
    assert instructor.heading == "1 scenario to choose from"


def test_a_bad_file_does_not_keep_a_school_from_starting(
    first_visit: Visitor, folder: Path
) -> None:
    (folder / FILE).write_text("id: [", encoding="utf-8")

    first_visit.send(**FILLED)
    assert first_visit.path == "/classes"
    assert "The scenario files hold mistakes" in first_visit.html
