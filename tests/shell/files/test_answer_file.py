"""Answers are kept as typed; those to another scenario or task are refused."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.files.answer_file import check_answers, read_answers, read_answers_text
from coursekit.files.scenario_file import read_scenario_text
from coursekit.problems import Problems
from tests.shell.files.ford import FILE, FORD, problems_raised

SCENARIO = read_scenario_text(FORD, FILE)
ANSWERS = """\
scenario: ford-exit
seed: 17
answers:
  total: 6.40 kN
  rear: 6400
  build: {method: winch, lines: []}
  weak: bow-1
  bin: [old-strap]
  go:
"""


def test_answers_are_kept_as_typed(tmp_path: Path) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text(ANSWERS, "utf-8")
    answers = read_answers(path)

    assert (answers.scenario, answers.seed) == ("ford-exit", 17)
    assert answers.answers == {
        "total": "6.40 kN",
        "rear": "6400",
        "build": {"method": "winch", "lines": []},
        "weak": "bow-1",
        "bin": ["old-strap"],
        "go": None,
    }
    assert str(answers.where("weak")) == f"{path}:7: answers.weak"
    check_answers(answers, SCENARIO)


def test_answers_without_a_seed_are_to_the_file_s_own_numbers() -> None:
    assert read_answers_text("scenario: ford-exit\nanswers: {}\n", "a.yaml").seed is None


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        (
            "answers: {}\n",
            "a.yaml:1: scenario: It is missing. Add for example scenario: ford-exit.",
        ),
        (
            "scenario: a\n",
            "a.yaml:1: answers: It is missing. Add for example answers: {total: 6.4 kN}.",
        ),
        ("scenario: a\nanswers: 3\n", "a.yaml:2: answers: A mapping is needed here."),
        ("scenario: a\nseed: x\nanswers: {}\n", 'a.yaml:2: seed: "x" is not a number.'),
        ("scenario: a\nseed: -1\nanswers: {}\n", "a.yaml:2: seed: -1 is no seed."),
        ("scenario: a\nseed: 1.5\nanswers: {}\n", "a.yaml:2: seed: 1.5 is no seed."),
        ("scenario: a\nname: b\nanswers: {}\n", "a.yaml:2: name: This key is not known here."),
        ("scenario: a\nanswers: {x: 1, x: 2}\n", "a.yaml:2: answers.x: x stands twice"),
    ],
)
def test_a_file_that_is_no_answer_file_says_why(text: str, shown: str) -> None:
    with pytest.raises(Problems) as caught:
        read_answers_text(text, "a.yaml")

    assert str(caught.value).startswith(shown)


def test_answers_to_another_scenario_or_task_are_refused() -> None:
    text = ANSWERS.replace("scenario: ford-exit", "scenario: ford").replace("weak:", "weakest:")

    with pytest.raises(Problems) as caught:
        check_answers(read_answers_text(text, "a.yaml"), SCENARIO)

    other, unknown = (str(problem) for problem in caught.value.items)
    assert other == (
        "a.yaml:1: scenario: These are answers to ford, the scenario is ford-exit. "
        "Name the scenario that they belong to."
    )
    assert unknown == (
        "a.yaml:7: answers.weakest: There is no task weakest. Did you mean weak? "
        "Known here: total, build, rear, weak, bin, go, steps."
    )


@given(st.text(max_size=200))
@settings(max_examples=200)
def test_any_text_is_answers_or_problems(text: str) -> None:
    found = problems_raised(lambda: read_answers_text(text, "a.yaml"))

    assert all(problem.where.file == "a.yaml" for problem in found)
