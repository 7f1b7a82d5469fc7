"""`coursekit mark`: the contract's JSON, whose numbers count, and what can't be marked."""

import math

import pytest

from tests.shell.cli.course import ANSWERS, Course, numbers_in
from tests.shell.files.ford import changed

VERDICTS = {"right", "carried", "unit", "slip", "part", "wrong", "missing"}


def _task(marked: dict[str, list[dict[str, object]]], name: str) -> dict[str, object]:
    return next(task for task in marked["tasks"] if task["id"] == name)


def test_json_has_the_keys_of_the_contract(course: Course) -> None:
    marked = course.json("mark", course.scenario(), course.answers())

    assert marked.keys() >= {
        "scenario",
        "seed",
        "solver",
        "marks",
        "out_of",
        "safe",
        "outcome",
        "tasks",
    }
    assert [task["id"] for task in marked["tasks"]] == [
        "total",
        "build",
        "rear",
        "weak",
        "bin",
        "go",
        "steps",
    ]
    for task in marked["tasks"]:
        assert task.keys() >= {
            "id",
            "marks",
            "out_of",
            "verdict",
            "slips",
            "given",
            "truth",
            "expected",
            "feedback",
        }
        assert task["verdict"] in VERDICTS
        assert isinstance(task["feedback"], str)


def test_right_answers_earn_all_marks(course: Course) -> None:
    marked = course.json("mark", course.scenario(), course.answers())

    assert (marked["marks"], marked["out_of"]) == (18, 18)
    assert (marked["safe"], marked["outcome"], marked["seed"]) == (True, "competent", None)
    # W (sin theta + c cos theta): statics.
    slope = math.radians(8.0)
    weight = 2650 * 9.80665
    held = weight * (math.sin(slope) + 0.14 * math.cos(slope))
    assert _task(marked, "total")["truth"] == pytest.approx(held)
    assert _task(marked, "total")["given"] == 7220.0


def test_answers_that_are_missing_are_marked_so(course: Course) -> None:
    marked = course.json(
        "mark", course.scenario(), course.answers("scenario: ford-exit\nanswers: {}\n")
    )

    assert {task["verdict"] for task in marked["tasks"]} == {"missing"}
    assert (marked["marks"], marked["outcome"]) == (0, "not-yet")


def test_the_seed_of_the_answer_file_counts_and_the_option_goes_before_it(course: Course) -> None:
    file, answers = (
        course.scenario(),
        course.answers(ANSWERS.replace("answers:", "seed: 7\nanswers:")),
    )
    own = course.json("mark", file, answers)
    other = course.json("mark", file, answers, "--seed", "8")
    solved = course.json("solve", file, "--seed", "7")

    assert (own["seed"], other["seed"]) == (7, 8)
    assert _task(own, "total")["truth"] == pytest.approx(solved["quantities"]["resistance.total"])
    assert _task(own, "total")["truth"] != _task(other, "total")["truth"]


def test_another_seed_than_that_of_the_answers_is_told(course: Course) -> None:
    file = course.scenario()
    answers = course.answers(ANSWERS.replace("answers:", "seed: 7\nanswers:"))
    assert course.run("mark", file, answers, "--seed", "7").stderr == ""
    told = course.run("mark", file, answers, "--seed", "8").stderr
    assert "given to the numbers of seed 7" in told
    assert "marked by those of 8" in told


def test_a_wrong_critical_choice_is_unsafe_whatever_the_marks(course: Course) -> None:
    result = course.run(
        "mark", course.scenario(), course.answers(ANSWERS.replace("go: go", "go: no-go")), "--json"
    )

    assert result.exit_code == 0
    assert '"outcome": "unsafe"' in result.stdout
    assert '"safe": false' in result.stdout


@pytest.mark.parametrize(
    ("typed", "verdict", "given"),
    [
        ("7,220 N", "right", 7220.0),
        ("7 220 N", "right", 7220.0),
        ("736 kg", "right", 736 * 9.80665),
        # The task fixes its unit: kN.
        ("7.22", "right", 7220.0),
        ("7.22 N", "unit", 7.22),
        ("7.2 m", "wrong", None),
        ("about seven", "wrong", None),
        ("nan kN", "wrong", None),
        ("9**9**9 kN", "wrong", None),
        ("-7.22 kN", "wrong", -7220.0),
    ],
)
def test_quantities_are_read_as_people_type_them(
    course: Course, typed: str, verdict: str, given: float | None
) -> None:
    answers = course.answers(ANSWERS.replace("7.22 kN", f"'{typed}'"))
    total = _task(course.json("mark", course.scenario(), answers), "total")

    assert total["verdict"] == verdict
    assert total["given"] == (given if given is None else pytest.approx(given))


def test_a_number_alone_is_read_in_the_unit_that_the_task_fixes_and_said_so(course: Course) -> None:
    answers = course.answers(ANSWERS.replace("7.22 kN", "'7.22'"))
    total = _task(course.json("mark", course.scenario(), answers), "total")

    assert (total["verdict"], total["marks"]) == ("right", 3)
    assert "7.22 read in kN" in str(total["feedback"])


def test_a_number_alone_is_a_unit_fault_where_no_unit_is_fixed(course: Course) -> None:
    answers = course.answers(ANSWERS.replace("rear: 7220 N", "rear: '7220'"))
    rear = _task(course.json("mark", course.scenario(), answers), "rear")

    assert (rear["verdict"], rear["marks"], rear["given"]) == ("unit", 1.5, None)


@pytest.mark.parametrize(
    "rig", ["a rope", "[winch-line]", "{}", "{method: winch, lines: [{from: elm}]}", "{method: 3}"]
)
def test_a_rig_that_can_not_be_solved_is_wrong_and_told_why(course: Course, rig: str) -> None:
    start, end = ANSWERS.index("  build:"), ANSWERS.index("  weak:")
    answers = course.answers(ANSWERS[:start] + f"  build: {rig}\n" + ANSWERS[end:])
    build = _task(course.json("mark", course.scenario(), answers), "build")

    assert (build["verdict"], build["marks"]) == ("wrong", 0)
    assert len(str(build["feedback"])) > 30


def test_every_number_is_finite(course: Course) -> None:
    assert all(
        abs(number) < 1e9
        for number in numbers_in(course.json("mark", course.scenario(), course.answers()))
    )


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        (ANSWERS.replace("scenario: ford-exit", "scenario: ford"), 1, "These are answers to ford"),
        (ANSWERS.replace("  weak:", "  week:"), 1, "answers.week: There is no task week. Did you"),
        ("", 1, "It is empty"),
        ("a: b: c", 2, "It is not YAML"),
    ],
)
def test_answers_that_can_not_be_marked_say_why(
    course: Course, text: str, code: int, words: str
) -> None:
    result = course.run("mark", course.scenario(), course.answers(text), "--json")

    assert (result.exit_code, result.stdout) == (code, "")
    assert words in result.stderr


def test_a_missing_answer_file_ends_with_2(course: Course) -> None:
    assert course.run("mark", course.scenario(), "nowhere.yaml").exit_code == 2
    assert course.run("mark", course.scenario()).exit_code == 2


def test_the_report_gives_marks_reasons_and_the_caution(course: Course) -> None:
    report = course.run("mark", course.scenario(), course.answers()).stdout

    assert "18 of 18 marks; competent" in report
    assert "total: right, 3 of 3" in report
    assert "It clears no real pull" in report


def test_numbers_that_no_draw_can_offer_are_told_in_one_line(course: Course) -> None:
    # At its own numbers the given rig is safe, and at those of the range it never is.
    text = changed(
        ("from: 2200 kg, to: 3100 kg", "from: 60 t, to: 90 t"),
        ("step: 50 kg", "step: 1 t"),
    )
    result = course.run("mark", course.scenario(text), course.answers(), "--seed", "1")

    assert result.exit_code == 1
    assert result.stderr.startswith("ford-exit: no numbers were found that can be offered.")
    assert "Traceback" not in result.stderr
