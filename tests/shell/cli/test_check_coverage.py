"""`coursekit check --coverage`: the table, what is missing, exit codes."""

from tests.shell.cli.course import Course


def test_one_scenario_alone_leaves_much_out_and_says_what(course: Course) -> None:
    result = course.run("check", "--coverage", course.scenario())

    assert (result.exit_code, result.stderr) == (1, "")
    lines = result.stdout.splitlines()
    assert max(len(line) for line in lines) <= 80
    assert "  wet-grass                   1  ford-exit" in lines
    assert "  loose-sand                  0  MISSING" in lines
    assert any(line.startswith("missing from surfaces: asphalt, gravel,") for line in lines)


def test_json_tells_each_entry_with_its_scenarios(course: Course) -> None:
    told = course.json("check", "--coverage", course.scenario())

    assert (told["scenarios"], told["full"]) == (1, False)
    subjects = {subject["name"]: subject for subject in told["subjects"]}
    assert subjects["surfaces"]["entries"]["wet-grass"] == ["ford-exit"]
    assert "snow" in subjects["surfaces"]["missing"]


def test_a_file_with_problems_says_them_and_shows_no_table(course: Course) -> None:
    result = course.run("check", "--coverage", course.scenario("format: 1\n"))

    assert (result.exit_code, result.stdout) == (1, "")
    assert "ford-exit.yaml" in result.stderr
