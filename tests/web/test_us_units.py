"""A scenario written in US units is drawn and told in them, and in no others."""

from __future__ import annotations

import re

import pytest
from flask import Flask

from coursekit.quantities.units import Kind
from coursekit.quantities.voice import is_us, units_of
from coursekit.scenario.model import Scenario
from coursekit.web.force_time import force_time_chart
from coursekit.web.plan import asking_plan, plain_plan, solved, solved_plan
from tests.core.scenario import stock

METRIC = re.compile(r"\d\s?(m|kN|kg|kJ|m/s)\b")


def us_scenarios() -> list[Scenario]:
    scenarios = map(stock.scenario, stock.IDS)
    return [each for each in scenarios if units_of(each)[Kind.FORCE] == "lbf"]


def test_there_are_us_scenarios_with_each_method() -> None:
    methods = {rig.method for each in us_scenarios() for rig in each.rigs.values()}

    assert methods == {"winch", "kinetic", "tow"}


@pytest.mark.parametrize("scenario", us_scenarios(), ids=lambda each: each.id)
def test_its_plans_hold_no_metric_number(one_app: Flask, scenario: Scenario) -> None:
    solution = solved(scenario, scenario.given_rig)
    assert solution is not None
    with one_app.test_request_context():
        plans = (
            plain_plan(scenario),
            asking_plan(scenario, solution.rig),
            solved_plan(scenario, solution),
            solved_plan(scenario, solution, whole_area=True),
        )

    for plan in plans:
        assert METRIC.search(str(plan)) is None
        assert plan.strip.scale.text.endswith(" ft")


@pytest.mark.parametrize("scenario", us_scenarios(), ids=lambda each: each.id)
def test_its_chart_is_drawn_in_pounds(one_app: Flask, scenario: Scenario) -> None:
    solution = solved(scenario, scenario.given_rig)
    with one_app.test_request_context():
        chart = force_time_chart(scenario, solution)

    if solution is None or solution.rig.method != "kinetic":
        assert chart is None
    else:
        assert chart is not None
        assert b"lbf" in chart
        assert b"kN" not in chart


@pytest.mark.parametrize(
    ("texts", "us"),
    [
        (["4800 lb", "9 m", "30 ft"], True),
        (["4800 lb", "9 m"], False),  # as many of the one as of the other
        (["8 deg", "0.30", "20 %"], False),  # units of neither
        ([], False),
    ],
)
def test_most_of_what_is_written_decides_the_units(texts: list[str], *, us: bool) -> None:
    assert is_us(dict(zip("abc", texts, strict=False))) is us


@pytest.mark.parametrize(("name", "us"), [("dune-mouth", True), ("gully-bend", False)])
def test_the_situation_knows_the_units_of_its_file(name: str, *, us: bool) -> None:
    assert stock.scenario(name).situation.us_units is us
