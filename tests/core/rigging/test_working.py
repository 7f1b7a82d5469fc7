"""Worked solutions: the formula with its numbers put in comes to the value of the step."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from coursekit.problems import Amount
from coursekit.quantities.voice import METRIC, US, shower
from coursekit.rigging.given import GIVEN
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import METHODS, Ground, Situation
from coursekit.rigging.solver import Solution, solve
from coursekit.rigging.steps import Chain, Step, Term
from coursekit.rigging.working import (
    PLACE,
    Reader,
    ToldStep,
    tell,
    worked_solution,
    worked_step,
)
from tests.core.scenario.stock import IDS, scenario
from tests.core.world import (
    deg,
    double_line,
    kinetic,
    near,
    recovery,
    redirect,
    self_recovery,
    situation,
    tow,
    with_own_winch,
)

SLOPE = Ground(None, 0.15, deg(8.0), deg(230.0))
BOGGED = replace(SLOPE, bogged="hubs")
RIGS = {
    "redirect": (situation(ground=SLOPE), redirect()),
    "double line": (situation(ground=SLOPE), double_line()),
    "double line, bogged": (situation(ground=BOGGED), double_line()),
    "self-recovery": (with_own_winch(), self_recovery()),
    "kinetic": (near(ground=SLOPE), kinetic()),
    "kinetic, stays stuck": (near(ground=BOGGED), kinetic(speed=0.5)),
    "tow": (near(ground=SLOPE), tow()),
    "tow, off the exit": (situation(ground=SLOPE, recovery=recovery(at=(4.0, 1.0))), tow()),
}
METRIC_READER = Reader(shower(METRIC))


def evaluated(step: Step, solution: Solution) -> float:
    """Return what a formula comes to as it is printed, unrounded numbers in its places."""
    terms = {term.symbol: term for term in step.terms}

    def number(match: re.Match[str]) -> str:
        key = match[1]
        return f"({terms[key].at(solution.values) if key in terms else solution.values[key]!r})"

    written = PLACE.sub(number, step.put_in(solution.values))
    python = re.sub(r"(\d+)°", r"radians(\1)", written).replace("^", "**")
    names = {name: getattr(math, name) for name in ("sin", "cos", "sqrt", "radians")}
    return float(eval(python, {**names, "max": max}))  # noqa: S307 -- our own formulas


def assert_formulas_hold(solution: Solution) -> int:
    """Check every formula that numbers are put into; return how many there were."""
    shown = [
        step
        for step in solution.chain
        if solution.values[step.key] is not None and step.put_in(solution.values)
    ]
    for step in shown:
        expected = pytest.approx(solution.values[step.key], rel=1e-9, abs=1e-9)
        assert evaluated(step, solution) == expected, step.key
    return len(shown)


@pytest.mark.independent("the printed formula, read and reckoned by another reader than the rule")
@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("name", RIGS)
def test_each_formula_with_its_numbers_comes_to_the_value_of_its_step(
    name: str, method: str
) -> None:
    site, rig = RIGS[name]

    assert assert_formulas_hold(solve(replace(site, method=method), rig)) > 20


@pytest.mark.independent("the printed formula, read and reckoned by another reader than the rule")
@pytest.mark.parametrize("name", IDS)
def test_it_does_so_in_every_rig_of_the_scenarios(name: str) -> None:
    for rig in scenario(name).rigs.values():
        assert assert_formulas_hold(solve(scenario(name).situation, rig))


def told(site: Situation, rig: Rig, reader: Reader = METRIC_READER) -> dict[str, ToldStep]:
    parts = worked_solution(solve(site, rig))
    return {step.step.key: tell(step, reader) for part in parts for step in part.steps}


def test_a_step_is_told_in_words_symbols_and_numbers() -> None:
    # 2600 kg on 8 degrees, the exit 40 degrees off straight uphill.
    grade = told(situation(ground=SLOPE), redirect())["resistance.grade"]

    assert grade.name == "resistance of the slope"
    assert grade.formula == "R_g = W sin(θ) cos(φ)"
    assert grade.put_in == "25.5 kN × sin(8.00°) × cos(40.0°)"  # noqa: RUF001
    assert grade.numbers[:2] == ("W = 25.5 kN (weight)", "θ = 8.00° (slope)")
    assert grade.value == "2.72 kN"
    assert grade.rounding == "rounded up"
    assert grade.source == "component of the weight along the slope; statics"


def test_a_capacity_says_that_it_is_rounded_down_and_how_far_it_holds() -> None:
    limit = told(situation(), redirect())["item.winch-line.limit"]

    assert limit.put_in == "88.0 kN × 1 / 2"  # noqa: RUF001
    assert (limit.value, limit.rounding) == ("44.0 kN", "rounded down")
    assert "passed its inspection" in limit.limits


def test_every_step_that_has_a_value_stands_once_in_one_part() -> None:
    solution = solve(*RIGS["redirect"])
    keys = [step.step.key for part in worked_solution(solution) for step in part.steps]

    assert sorted(keys) == sorted(
        step.key for step in solution.chain if solution.values[step.key] is not None
    )
    assert len({str(part.title) for part in worked_solution(solution)}) == len(
        worked_solution(solution)
    )


def test_a_bogged_vehicle_gets_the_formula_that_was_used_for_it() -> None:
    steps = told(situation(ground=BOGGED), redirect())

    assert steps["resistance.total"].put_in == "max(0, 2.72 kN) + 25.5 kN"
    assert steps["resistance.rolling"].put_in == ""


def test_a_formula_with_masses_and_stiffness_is_reckoned_in_si() -> None:
    # In kilonewtons or pounds the root would not come out in the unit of a force.
    lowest = told(near(), kinetic(), Reader(shower(US)))["kinetic.speed.lowest"]

    assert "3,000.0 kg" in lowest.put_in
    assert re.search(r"[\d,]+\.?\d* N/m", lowest.put_in)
    assert "lb" not in lowest.put_in


def test_a_square_is_that_of_the_whole_quantity() -> None:
    assert "kN)²" in told(near(), kinetic())["kinetic.energy"].put_in


def test_a_yes_or_no_is_a_word_and_a_count_has_no_decimals() -> None:
    assert told(near(), kinetic())["kinetic.breaks_out"].value in {"yes", "no"}
    assert told(situation(), redirect())["winch.layer"].value.isdigit()


def test_names_stand_for_ids() -> None:
    reader = Reader(shower(METRIC), names={"oak": "the old oak", "bow-1": "Bow 1"})
    steps = told(situation(), redirect(), reader)

    assert steps["place.oak.load"].name == "load on the old oak"
    assert steps["item.bow-1.load"].name == "load on Bow 1"
    assert any("toward recovery_vehicle.winch" in text for text in steps["place.oak.load"].numbers)


def test_what_has_no_value_is_put_into_no_formula() -> None:
    away = solve(situation(stuck=replace(situation().stuck, exit=deg(270.0))), redirect())
    pull = worked_step(away, away.chain.step("pull"))

    assert away.values["pull"] is None
    assert pull.put_in is None


def test_the_dust_of_floats_is_no_angle_and_no_share() -> None:
    tiny = Term("a", "angle", "rad", 1.5e-8)
    nearly = Term("b", "share", "-", 1.0 - 1e-12)
    step = Step("x", "x", "x", "-", "x", "", lambda _v: 2.5, terms=(tiny, nearly))
    site, rig = RIGS["redirect"]
    solution = replace(solve(site, rig), chain=Chain({}, (step,)), values={"x": 2.5})

    assert worked_step(solution, step).numbers[0].amount == Amount(0.0, "rad", "nearest")
    assert worked_step(solution, step).numbers[1].amount == "1"


def test_all_given_data_have_a_name() -> None:
    assert set(solve(*RIGS["tow"]).chain.given) == set(GIVEN)
