"""`coursekit solve`: the contract's JSON, exit codes, and a report for people."""

import math

import pytest

from coursekit.files.scenario_file import read_scenario_text
from tests.shell.cli.course import Course
from tests.shell.files.ford import FORD, changed, line_of

# What the page of formats promises of every winch rig.
TOP = {
    "scenario", "digest", "solver", "method", "rig_method", "quantities", "lines", "places",
    "weakest", "findings", "steps", "safe",
}  # fmt: skip
QUANTITIES = {
    "weight", "resistance.grade", "resistance.rolling", "resistance.bogging", "resistance.total",
    "advantage.ideal", "advantage.actual", "pull", "pull.available", "pull.stall",
    "pull.available.end", "line.needed", "line.available", "stand_off",
}  # fmt: skip
ITEM = {"item", "load", "limit", "use", "safety_factor"}
KINETIC = """\
method: kinetic
lines:
  - from: recovery_vehicle.front
    made_of: [rope-k]
    with: [soft-1]
    to: {at: stuck_vehicle.rear, with: [bow-1]}
    dampers: [damper-1]
speed: 9 km/h
"""
NEAR = ("at: [22, 0]", "at: [6, 0]")


def test_json_has_the_keys_of_the_contract(course: Course) -> None:
    solved = course.json("solve", course.scenario())

    assert solved.keys() >= TOP
    assert solved["quantities"].keys() >= QUANTITIES
    assert (solved["scenario"], solved["solver"]) == ("ford-exit", "2")
    assert (solved["method"], solved["rig_method"]) == ("vector", "winch")
    assert solved["digest"] == read_scenario_text(FORD, "ford-exit.yaml").digest
    (line,) = solved["lines"]
    assert line.keys() >= {"from", "load", "items"}
    assert all(item.keys() >= ITEM for item in line["items"])
    assert [place["at"] for place in solved["places"]] == [
        "recovery_vehicle.winch",
        "stuck_vehicle.rear",
    ]
    for place in solved["places"]:
        assert place.keys() >= {"at", "load", "bearing", "holds", "items"}
    assert solved["weakest"].keys() == {"item", "at", "use"}
    for finding in solved["findings"]:
        assert finding.keys() >= {"rule", "severity", "at", "item", "message"}
    for step in solved["steps"]:
        assert step.keys() >= {"key", "symbol", "formula", "value", "unit", "source"}


def test_loads_are_in_si_and_follow_from_statics(course: Course) -> None:
    solved = course.json("solve", course.scenario())
    weight = 2650 * 9.80665
    slope = math.radians(8)

    quantities = solved["quantities"]
    assert quantities["weight"] == pytest.approx(weight)
    assert quantities["resistance.grade"] == pytest.approx(weight * math.sin(slope))
    # 0.14 for wet grass: 1/7, Commonwealth army fractions, from memory.
    assert quantities["resistance.rolling"] == pytest.approx(0.14 * weight * math.cos(slope))
    assert quantities["pull"] == pytest.approx(
        quantities["resistance.grade"] + quantities["resistance.rolling"]
    )
    assert quantities["line.needed"] == pytest.approx(22.0)


def test_a_named_rig_is_solved_with_every_place_once(course: Course) -> None:
    solved = course.json("solve", course.scenario(), "--rig", "turned")

    assert [place["at"] for place in solved["places"]] == [
        "recovery_vehicle.winch",
        "oak",
        "stuck_vehicle.rear",
    ]
    oak = solved["places"][1]
    assert oak["holds"] == 30_000.0
    assert [item["item"] for item in oak["items"]] == ["sling-1", "bow-1", "ring-1"]


def test_an_unsafe_rig_ends_with_1_and_says_why(course: Course) -> None:
    text = changed(("kind: recovery-point, wll: 5 t, edge", "kind: tow-ball, wll: 5 t, edge"))
    result = course.run("solve", course.scenario(text), "--json")

    assert result.exit_code == 1
    assert '"rule": "tow-ball"' in result.stdout
    assert '"safe": false' in result.stdout
    assert result.stderr == ""


def test_a_safe_rig_ends_with_0(course: Course) -> None:
    result = course.run("solve", course.scenario())

    assert (result.exit_code, result.stderr) == (0, "")


def test_a_kinetic_rig_of_a_file_has_its_quantities(course: Course) -> None:
    rig = str(course.write("rig.yaml", KINETIC))
    solved = course.json("solve", course.scenario(changed(NEAR)), "--rig", rig)

    assert solved["rig_method"] == "kinetic"
    assert solved["quantities"].keys() >= {
        "kinetic.stiffness",
        "kinetic.speed",
        "kinetic.peak",
        "kinetic.design",
        "kinetic.energy",
        "kinetic.breaks_out",
        "kinetic.speed.lowest",
        "kinetic.speed.highest",
    }
    assert solved["quantities"]["kinetic.speed"] == pytest.approx(2.5)
    assert isinstance(solved["quantities"]["kinetic.breaks_out"], bool)
    assert solved["lines"][0]["load"] == pytest.approx(solved["quantities"]["kinetic.design"])


def test_what_has_no_meaning_is_null(course: Course) -> None:
    # Nothing is rated, so nothing has a limit; the exit leads away from the pull.
    text = changed(("wll: 5 t, edge", "edge"), ("exit: 90 deg", "exit: 270 deg"))
    solved = course.json("solve", course.scenario(text))

    assert solved["quantities"]["pull"] is None
    assert solved["lines"][0]["load"] is None
    point = solved["places"][1]["items"][-1]
    assert (point["item"], point["limit"], point["use"]) == ("stuck_vehicle.rear", None, None)
    assert "wrong-direction" in {finding["rule"] for finding in solved["findings"]}


def test_a_seed_gives_the_same_numbers_each_time(course: Course) -> None:
    file = course.scenario()
    one, same, other = (course.json("solve", file, "--seed", seed) for seed in "778")

    assert one == same
    assert one["quantities"]["weight"] != other["quantities"]["weight"]
    assert one["digest"] == other["digest"]


def test_a_field_can_be_set_on_top_of_a_seed(course: Course) -> None:
    file = course.scenario()
    seeded = course.json("solve", file, "--seed", "7")
    tried = course.json("solve", file, "--seed", "7", "--set", "stuck_vehicle.mass=3 t")

    assert tried["quantities"]["weight"] == pytest.approx(3000 * 9.80665)
    assert tried["quantities"]["slope"] == pytest.approx(seeded["quantities"]["slope"])
    assert tried["digest"] == seeded["digest"]


@pytest.mark.parametrize(
    ("option", "words"),
    [
        ("stuck_vehicle.mas=3 t", "stuck_vehicle.mas: This key is not known here"),
        ("stuck_vehicle.mass=3 kN", "stuck_vehicle.mass: 3 kN is a force, a mass is needed"),
        ("gear.rope-9.mbs=3 kN", "gear.rope-9.mbs: There is no such field to set"),
    ],
)
def test_setting_what_can_not_be_set_is_a_problem(course: Course, option: str, words: str) -> None:
    result = course.run("solve", course.scenario(), "--set", option)

    assert result.exit_code == 1
    assert result.stdout == ""
    assert words in result.stderr


@pytest.mark.parametrize(
    "arguments",
    [
        (),
        ("FORD", "--rig", "nowhere"),
        ("FORD", "--rig", "nowhere.yaml"),
        ("FORD", "--set", "stuck_vehicle.mass"),
        ("FORD", "--seed", "-1"),
        ("FORD", "--seed", "x"),
        ("FORD", "--shout"),
        ("nowhere.yaml",),
        (".",),
    ],
)
def test_wrong_usage_and_files_that_can_not_be_read_end_with_2(
    course: Course, arguments: tuple[str, ...]
) -> None:
    file = course.scenario()
    result = course.run("solve", *(file if word == "FORD" else word for word in arguments))

    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr


def test_a_scenario_without_a_given_rig_names_those_it_has(course: Course) -> None:
    text = changed(("  given:\n", "  straight:\n"), (" rig: given,", " rig: turned,"))
    result = course.run("solve", course.scenario(text))

    assert result.exit_code == 2
    assert "straight, turned" in result.stderr


def test_problems_go_to_standard_error_one_a_line(course: Course) -> None:
    file = course.scenario(changed(("2650 kg", "2650 kN"), ("level: foundation", "level: easy")))
    result = course.run("solve", file, "--json")

    assert (result.exit_code, result.stdout) == (1, "")
    level, mass = result.stderr.splitlines()
    assert level == (
        f'{file}:4: level: "easy" is no level known here. '
        "Known here: foundation, intermediate, advanced."
    )
    assert mass == (
        f"{file}:{line_of('mass: 2650')}: stuck_vehicle.mass: "
        "2650 kN is a force, a mass is needed. Write for example 2650 kg."
    )


def test_the_report_names_findings_loads_steps_and_the_caution_in_this_order(
    course: Course,
) -> None:
    report = course.run("solve", course.scenario()).stdout
    order = [
        report.index(words)
        for words in (
            "no finding is critical",
            "rolls-back (stuck_vehicle)",
            "Loads (rounded up) against limits (rounded down)",
            "weakest: bow-1 at stuck_vehicle.rear",
            "Worked steps",
            "R_g = W sin(theta) cos(phi)  [component of the weight",
            "It clears no real pull",
        )
    ]

    assert order == sorted(order)


def test_the_report_rounds_loads_up_and_limits_down(course: Course) -> None:
    # W (sin 8 + 0.14 cos 8) = 7.2196 kN; the shackle's 3.25 t are 31.8716 kN.
    report = course.run("solve", course.scenario()).stdout

    (bow,) = (line for line in report.splitlines() if line.startswith("    bow-1 "))
    assert bow.split()[1:7] == ["7.22", "kN", "of", "31.8", "kN", "23"]


def test_the_report_shows_enough_digits_to_agree_with_its_verdict(course: Course) -> None:
    load = course.json("solve", course.scenario())["quantities"]["pull"]
    limit = f"wll: {load / 1000 - 0.0001:.4f} kN, mbs: 90 kN"
    report = course.run(
        "solve", course.scenario(changed(("wll: 3.25 t, mbs: 19.5 t", limit)))
    ).stdout

    (bow,) = (line for line in report.splitlines() if line.startswith("    bow-1 "))
    shown_load, shown_limit = (float(word) for word in (bow.split()[1], bow.split()[4]))
    assert "over-limit" in report
    assert shown_load > shown_limit
    assert "101 %" in bow


def test_us_scenarios_are_reported_in_their_own_units(course: Course) -> None:
    text = changed(
        ("2650 kg", "5842 lb"),
        ("2900 kg", "6393 lb"),
        ("travel: 6 m", "travel: 20 ft"),
        ("4300 kgf", "9500 lbf"),
        ("64 mm", "2.5 in"),
        ("rope: 10 mm", "rope: 0.39 in"),
        ("length: 28 m", "length: 92 ft"),
        ("length: 12 m", "length: 40 ft"),
        ("length: 3 m", "length: 10 ft"),
        ("length: 9 m", "length: 30 ft"),
        ("length: 9 m", "length: 30 ft"),
        ("wll: 3000 kg", "wll: 6600 lb"),
        ("wll: 3.25 t, mbs: 19.5 t", "wll: 3.25 short ton, mbs: 19.5 short ton"),
        ("{from: 2200 kg, to: 3100 kg, step: 50 kg}", "{from: 5000 lb, to: 6000 lb, step: 50 lb}"),
    )

    assert "total resistance: R = 1,6" in course.run("solve", course.scenario(text)).stdout
