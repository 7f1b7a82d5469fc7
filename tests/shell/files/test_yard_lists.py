"""Yard lists in a scenario's file: read in their order, and told by line where they are wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from coursekit.files.scenario_file import read_scenario
from coursekit.problems import Problems
from tests.shell.files.ford import FILE, FORD
from tests.shell.yard import CRITERIA, YARD


def written(folder: Path, text: str) -> Path:
    path = folder / FILE
    path.write_text(text, encoding="utf-8")
    return path


def test_a_list_is_read_in_its_order(tmp_path: Path) -> None:
    scenario = read_scenario(written(tmp_path, FORD + YARD))
    names = [f"{task.id}.{one.id}" for task in scenario.yard for one in task.criteria]
    assert names == list(CRITERIA)
    assert [one.critical for task in scenario.yard for one in task.criteria] == [True, False, False]


def test_a_file_without_a_list_keeps_its_digest(tmp_path: Path) -> None:
    plain = read_scenario(written(tmp_path, FORD))
    assert plain.yard == ()
    assert read_scenario(written(tmp_path, FORD + "\nyard: []\n")).digest == plain.digest
    assert read_scenario(written(tmp_path, FORD + YARD)).digest != plain.digest


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("id: roles", "id: stop-word", "Another criterion has the id"),
        ("id: pull", "id: brief", "Another task has the id"),
        ("marks: 2", "marks: two", "yard.1.criteria.0.marks"),
        ("critical: true", "critical: perhaps", "yard.0.criteria.0.critical"),
        ("text: Gives everybody a place", "txt: x", "yard.0.criteria.1"),
        ("      - {id: slow, text: Pulls without a jerk, marks: 2}", "      []", "nothing to look"),
    ],
)
def test_what_is_wrong_is_told_with_its_line(tmp_path: Path, old: str, new: str, told: str) -> None:
    with pytest.raises(Problems) as refused:
        read_scenario(written(tmp_path, FORD + YARD.replace(old, new)))
    assert told in str(refused.value)
    assert all(problem.where.line for problem in refused.value.items)
