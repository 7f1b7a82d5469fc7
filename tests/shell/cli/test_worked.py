"""`coursekit solve --worked`: the worked solution on a terminal, and as further keys of JSON."""

import pytest

from tests.shell.cli.course import Course
from tests.shell.files.ford import changed

COLUMNS = 80


@pytest.fixture
def report(course: Course) -> str:
    return course.run("solve", course.scenario(), "--worked").stdout


def test_it_fits_a_terminal_of_80_columns(report: str) -> None:
    assert max(len(line) for line in report.splitlines()) <= COLUMNS


def test_a_step_has_its_words_formula_numbers_value_and_source(report: str) -> None:
    # The site of the ford: 2650 kg, 8 degrees, wet grass 0.14.
    _, _, after = report.partition("resistance of the slope: 3.62 kN  (rounded up)\n")

    lines = [line.strip() for line in after.splitlines()[:5]]
    assert lines[0] == "R_g = W sin(θ) cos(φ)"
    assert lines[1] == "= 26.0 kN × sin(8.00°) × cos(0°)"  # noqa: RUF001
    assert lines[2].startswith("with W = 26.0 kN (weight); θ = 8.00° (slope)")
    assert lines[4] == "Source: component of the weight along the slope; statics"


def test_its_parts_stand_in_the_order_of_solving(report: str) -> None:
    order = [
        report.index(words)
        for words in (
            "SAFE as far as these rules go.",
            "WHAT HOLDS THE VEHICLE",
            "THE PULL",
            "LINE AND DRUM",
            "LOADS ON PLACES",
            "EACH ITEM AGAINST ITS LIMIT",
            "FORCES AT EACH PLACE",
            "BOTH METHODS SIDE BY SIDE",
            "It clears",
        )
    ]

    assert order == sorted(order)


def test_both_methods_stand_side_by_side_with_the_reason(report: str) -> None:
    # sin 8 = 0.1392, 8 / 60 = 0.1333: 4.2 % lower.
    _, _, methods = report.partition("BOTH METHODS SIDE BY SIDE")
    lines = [line.split() for line in methods.splitlines()]

    assert ["resistance", "of", "the", "slope", "3.62", "kN", "3.47", "kN", "-4.2", "%"] in lines
    assert "The field rule reads lower: here it is not on the safe side." in methods
    assert "The field rule takes a sixtieth of the degrees, 0.133" in " ".join(methods.split())


def test_a_slope_beyond_the_field_rule_is_told(course: Course) -> None:
    steep = course.scenario(changed(("slope: 8 deg", "slope: 50 deg")))
    report = course.run("solve", steep, "--worked").stdout

    assert "The field rule holds for slopes up to 45 deg; this one is 50.0°." in " ".join(
        report.split()
    )


def test_json_keeps_its_keys_and_gains_the_working(course: Course) -> None:
    plain = course.json("solve", course.scenario())
    worked = course.json("solve", course.scenario(), "--worked")

    assert {key: worked[key] for key in plain} == plain
    assert set(worked) - set(plain) == {"worked", "forces", "methods"}
    grade = next(step for step in worked["worked"] if step["key"] == "resistance.grade")
    assert grade["put_in"].startswith("25987.6 N × sin(0.139626 rad)")  # noqa: RUF001
    total = next(q for q in worked["methods"]["quantities"] if q["key"] == "resistance.total")
    assert total["vector"] == plain["quantities"]["resistance.total"]
    assert total["reasons"]
    loads = {place["at"]: place["load"] for place in plain["places"]}
    assert {place["at"]: place["load"] for place in worked["forces"]} == loads


def test_an_unsafe_rig_ends_with_1_worked_or_not(course: Course) -> None:
    file = course.scenario(changed(("wll: 3.25 t, mbs: 19.5 t", "wll: 0.3 t, mbs: 1.8 t")))

    assert course.run("solve", file, "--worked").exit_code == 1
    assert "NOT SAFE." in course.run("solve", file, "--worked").stdout
