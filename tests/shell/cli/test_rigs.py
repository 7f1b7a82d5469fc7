"""`coursekit rigs`: the contract's JSON, exit codes, and a list for people."""

from coursekit.files.rig_file import rig_from_document
from coursekit.files.scenario_file import read_scenario_text
from coursekit.problems import Where
from coursekit.rigging.solver import solve
from tests.shell.cli.course import Course
from tests.shell.files.ford import FORD, changed

TOP = {"scenario", "examined", "safe", "rigs"}
RIG = {"rig", "pull", "worst_use", "parts", "pieces", "line_left", "assignments"}
LONG_LINE = ("length: 28 m", "length: 60 m")
WEAK_POINT = ("wll: 5 t, edge", "wll: 100 kg, edge")


def test_json_has_the_keys_of_the_contract(course: Course) -> None:
    found = course.json("rigs", course.scenario())

    assert found.keys() >= TOP
    assert found["scenario"] == "ford-exit"
    assert found["safe"] == len(found["rigs"]) <= found["examined"]
    assert all(rig.keys() >= RIG for rig in found["rigs"])


def test_every_rig_of_the_list_solves_to_the_numbers_beside_it(course: Course) -> None:
    scenario = read_scenario_text(FORD, "ford-exit.yaml")

    for listed in course.json("rigs", course.scenario())["rigs"]:
        rig = rig_from_document(listed["rig"], Where("rig"), scenario.situation)
        solution = solve(scenario.situation, rig)
        assert solution.is_good
        assert solution.values["pull"] == listed["pull"]
        assert solution.lines[0].load == listed["load"]
        assert solution.weakest is not None
        assert solution.weakest.use == listed["worst_use"]


def test_a_limit_cuts_the_list_and_not_the_count(course: Course) -> None:
    file = course.scenario(changed(LONG_LINE))
    whole, cut = course.json("rigs", file), course.json("rigs", file, "--limit", "1")

    assert len(cut["rigs"]) == 1 < whole["safe"] == cut["safe"]
    assert cut["rigs"] == whole["rigs"][:1]


def test_a_seed_takes_the_numbers_of_its_variation(course: Course) -> None:
    own, varied = (course.json("rigs", course.scenario(), *seed) for seed in ((), ("--seed", "17")))

    assert varied["seed"] == 17
    assert own["rigs"][0]["pull"] != varied["rigs"][0]["pull"]


def test_the_exit_code_says_whether_there_is_a_safe_rig(course: Course) -> None:
    unsafe = course.run("rigs", course.scenario(changed(WEAK_POINT)))

    assert course.run("rigs", course.scenario()).exit_code == 0
    assert unsafe.exit_code == 1
    assert "NO SAFE RIG" in unsafe.stdout
    assert course.run("rigs", "nowhere.yaml").exit_code == 2


def test_the_list_names_stations_gear_pull_use_line_left_and_the_caution(course: Course) -> None:
    said = course.run("rigs", course.scenario()).stdout

    for word in ("recovery_vehicle.winch", "winch-line", "pull", "worst use", "of line left",
                 "pieces", "Searched", "Caution"):  # fmt: skip
        assert word in said


def test_without_a_safe_rig_it_says_what_single_change_would_make_one(course: Course) -> None:
    bogged = course.scenario(changed(("bogged: none", "bogged: bonnet")))
    found = course.json("rigs", bogged)
    said = course.run("rigs", bogged)

    assert (said.exit_code, found["safe"], found["rigs"]) == (1, 0, [])
    for change in found["changes"]:
        assert change.keys() >= {"kind", "message", "proof"}
    assert "single change" in said.stdout or "changes by itself" in said.stdout
