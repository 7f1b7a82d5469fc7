"""`coursekit check`: one line a file, problems by line, exit codes."""

import pytest

from coursekit.cli.check import scenario_files
from coursekit.cli.main import main
from coursekit.files.resources import resource_dir
from tests.shell.cli.course import Course
from tests.shell.files.ford import FORD, changed, line_of


def test_a_scenario_that_holds_is_proven_in_one_line(course: Course) -> None:
    result = course.run("check", course.scenario())

    assert (result.exit_code, result.stderr) == (0, "")
    line, search, *_ = result.stdout.splitlines()
    assert line.startswith("proven ")
    assert "133 of 133 variations examined" in line
    assert "safe rigs: given" in line
    assert search.startswith("           a search finds ")


def test_an_invalid_file_says_every_problem_by_line(course: Course) -> None:
    file = course.scenario(changed(("2650 kg", "2650 kN"), ("surface: wet-grass", "surface: ice")))
    result = course.run("check", file)

    assert result.exit_code == 1
    assert result.stdout == f"invalid    {file}: 2 problems\n"
    assert [line.partition(": ")[0] for line in result.stderr.splitlines()] == [
        f"{file}:{line_of('mass: 2650')}",
        f"{file}:{line_of('surface:')}",
    ]


def test_a_scenario_without_a_safe_rig_is_unproven_at_the_line_of_its_rig(course: Course) -> None:
    file = course.scenario(changed(("wll: 5 t, edge", "wll: 0.5 t, edge")))
    result = course.run("check", file)

    assert result.exit_code == 1
    assert result.stdout.startswith(f"unproven   {file}: ")
    assert result.stderr.startswith(
        f"{file}:{line_of('  given:')}: rigs.given: No named rig is safe"
    )
    assert len(result.stderr.splitlines()) == 1


def test_a_go_among_no_gos_is_unproven(course: Course) -> None:
    result = course.run("check", course.scenario(changed(("expect: go", "expect: no-go"))))

    assert result.exit_code == 1
    assert "the rig given is safe and does the job" in result.stderr


def test_a_task_for_what_its_rig_does_not_have_is_unproven(course: Course) -> None:
    file = course.scenario(changed(("of: resistance.total", "of: tow.design")))
    result = course.run("check", file)

    assert result.exit_code == 1
    line = line_of("of: resistance.total")
    words = f"{file}:{line}: tasks.0.of: tow.design has no value with the rig given."
    assert words in result.stderr


def test_a_folder_is_checked_file_by_file_and_the_worst_counts(course: Course) -> None:
    course.scenario()
    course.scenario(FORD.replace("id: ford-exit", "id: ford"), "ford.yaml")
    course.write("notes.txt", "no scenario")
    course.write("zero.yaml", "")

    result = course.run("check", str(course.folder))
    assert result.exit_code == 1
    told = [line.split()[0] for line in result.stdout.splitlines() if not line.startswith(" ")]
    assert told == [
        "proven",
        "proven",
        "invalid",
    ]

    course.write("binary.yaml", "\x00")
    assert course.run("check", str(course.folder)).exit_code == 2


@pytest.mark.parametrize("name", ["nowhere.yaml", "empty"])
def test_what_can_not_be_read_ends_with_2(course: Course, name: str) -> None:
    (course.folder / "empty").mkdir()

    assert course.run("check", name).exit_code == 2


def test_a_link_to_a_folder_of_another_is_followed(course: Course) -> None:
    (course.folder / "shelf").mkdir()
    course.scenario(name="shelf/ford-exit.yaml")
    (course.folder / "link").symlink_to("shelf")

    assert course.run("check", "link").exit_code == 0


def test_json_tells_what_was_proven_and_what_was_not(course: Course) -> None:
    course.scenario()
    bad = course.scenario("format: 1\n", "bad.yaml")
    told = course.json("check", str(course.folder))

    invalid, proven = told["scenarios"]
    assert (invalid["file"], invalid["valid"], invalid["proven"]) == (bad, False, False)
    assert invalid["problems"][0].keys() == {"file", "line", "field", "what", "mend"}
    assert (proven["valid"], proven["proven"], proven["problems"]) == (True, True, [])
    assert (proven["variations"], proven["examined"], proven["offered"]) == (133, 133, 133)
    assert (proven["sample"], proven["good_rigs"]) == (False, ["given"])


def test_without_a_path_the_scenarios_that_come_with_it_are_checked() -> None:
    assert [*scenario_files(())] == sorted(resource_dir("scenarios").glob("*.yaml"))


def test_only_the_commands_that_are_whole_exist() -> None:
    assert sorted(main.commands) == ["check", "kit", "mark", "rigs", "serve", "solve"]
