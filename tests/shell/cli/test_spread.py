"""`coursekit solve --spread`: what becomes of a rig where its estimates are off."""

import math

from coursekit.files.scenario_file import read_scenario_text
from coursekit.rigging.site import Spread
from coursekit.scenario.model import Scenario
from tests.shell.cli.course import Course
from tests.shell.files.ford import FILE, FORD, changed

BLOCK = "spread: {mass: 10 %, rolling: 0 %, slope: 2 deg}\nvary:"


def stated() -> str:
    return changed(("vary:", BLOCK))


def test_json_has_the_spread_beside_the_contract(course: Course) -> None:
    plain = course.json("solve", course.scenario())
    spread = course.json("solve", course.scenario(), "--spread")

    assert "spread" not in plain
    assert {key: spread[key] for key in plain} == plain
    found = spread["spread"]
    low, middle, high = found["loads"]["pull"]
    assert low < middle < high
    assert low < spread["quantities"]["pull"] < high
    assert found["percentiles"] == [5.0, 50.0, 95.0]
    assert found["samples"] == 10_000
    assert set(found["matters"]) == {"mass", "rolling", "slope", "efficiency"}
    assert all(0.0 <= entry["share"] <= 1.0 for entry in found["passing"])
    assert 0.0 <= found["unsafe"] <= 1.0


def test_the_report_says_what_matters_most(course: Course) -> None:
    result = course.run("solve", course.scenario(stated()), "--spread")

    assert "Where the estimates are off (10000 cases, seed 1)" in result.stdout
    assert "what matters most is the" in result.stdout


def test_a_file_states_its_spread_and_the_rest_is_usual() -> None:
    own = read_scenario_text(stated(), FILE).situation.spread

    assert own == Spread(mass=0.10, rolling=0.0, slope=math.radians(2.0))


def test_a_file_without_a_spread_keeps_its_digest() -> None:
    def read(text: str) -> Scenario:
        return read_scenario_text(text, FILE)

    assert read(FORD).situation.spread == Spread()
    assert read(FORD).digest == read(changed(("vary:", "spread: {}\nvary:"))).digest
    assert read(FORD).digest != read(stated()).digest


def test_a_spread_beyond_half_is_refused_by_its_field(course: Course) -> None:
    wide = changed(("vary:", "spread: {mass: 60 %, slope: 20 deg, grip: 1 %}\nvary:"))
    result = course.run("solve", course.scenario(wide), "--spread")

    assert result.exit_code == 1
    assert "spread.mass: 60 % is over 50 %" in result.stderr
    assert "spread.slope: 20 deg is over 10 deg" in result.stderr
    assert "spread.grip" in result.stderr
