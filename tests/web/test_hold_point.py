"""The hold point before a pull: nothing goes on until everything on it is true."""

import re

import pytest
from flask import Flask

from coursekit.rigging.rig import RIG_METHODS
from coursekit.web.teach.hold_point import CHECKS, checks_for
from tests.cast import Cast
from tests.web.visitor import Visitor


@pytest.fixture
def hold_point(cast: Cast) -> str:
    scenario = cast.class_scenario_id
    return f"/classes/{cast.class_id}/pulls/hold-point?scenario={scenario}&rig=given"


def test_it_asks_for_everything_and_shows_the_area_that_nobody_enters(
    instructor: Visitor, hold_point: str
) -> None:
    instructor.open(hold_point)

    for words in (
        "Everybody is out of the hatched area.",
        "Every point is rated",
        "Pins are home",
        "Hitches are as planned",
        "A damper lies on the line.",
        "At least five wraps stay on the drum.",
        "Wheels are chocked",
        "The stop word is agreed",
    ):
        assert words in instructor.html
    assert "plan-hatch" in instructor.html
    assert "phone" in instructor.html


def test_the_usual_cautions_stand_there_with_their_sources(
    instructor: Visitor, hold_point: str
) -> None:
    instructor.open(hold_point)

    assert "Only rated recovery points." in instructor.html
    # assessment of published cautions: operator manual of a US Army winch.
    assert "TM 5-3990-263-13&amp;P" in instructor.html
    assert "HSE (UK), winches in tree work" in instructor.html


def test_one_open_point_holds_the_pull(instructor: Visitor, hold_point: str) -> None:
    held = {check.name: "y" for check in CHECKS if check.name != "people"}
    instructor.open(hold_point).send(**held)

    assert instructor.status == 422
    assert instructor.heading == "Hold: is all of this true?"
    assert instructor.errors == ["▲ Not confirmed: do not pull."]


def test_when_all_is_true_it_leads_to_the_log_of_that_rig(
    instructor: Visitor, hold_point: str
) -> None:
    instructor.open(hold_point).send(**{check.name: "y" for check in CHECKS})

    assert instructor.heading == "How did the pull end?"
    assert "The hold point is passed." in instructor.html


def test_wraps_on_a_drum_are_asked_for_winches_alone(app: Flask) -> None:
    asked = {method: {check.name for check in checks_for(method)} for method in RIG_METHODS}

    assert asked["winch"] - asked["kinetic"] == {"wraps"}
    assert asked["kinetic"] == asked["tow"]


def test_a_rig_that_the_solver_calls_unsafe_says_so_first(instructor: Visitor, cast: Cast) -> None:
    instructor.open(
        f"/classes/{cast.class_id}/pulls/hold-point?scenario={cast.class_scenario_id}&rig=turned"
    )

    assert "By the solver this rig is unsafe" in instructor.html
    assert "There is no hold point for a rig that would hurt somebody." in instructor.html


def test_no_tick_gets_an_unsafe_rig_past_the_hold_point(
    instructor: Visitor, hold_point: str
) -> None:
    instructor.open(hold_point)
    ticks = {check.name: "y" for check in CHECKS} | {"csrf_token": instructor.value("csrf_token")}
    answer = instructor.client.post(hold_point.replace("rig=given", "rig=turned"), data=ticks)

    assert answer.status_code == 200
    assert "There is no hold point" in answer.text


def test_the_list_of_rigs_offers_a_hold_point_for_the_safe_ones_alone(
    instructor: Visitor, cast: Cast
) -> None:
    instructor.open(f"/classes/{cast.class_id}/pulls/new")

    assert "hold-point?scenario" in instructor.html
    assert "rig=given" in instructor.html
    assert not re.search(r"hold-point\?[^\"]*rig=turned", instructor.html)
    assert "not to be pulled" in instructor.html
    # What was pulled all the same is logged all the same.
    assert re.search(r"pulls/rig\?[^\"]*rig=turned", instructor.html)


@pytest.mark.parametrize("query", ["", "?scenario=1&rig=none", "?attempt=99", "?attempt=x"])
def test_a_rig_that_is_not_there_is_not_found(instructor: Visitor, cast: Cast, query: str) -> None:
    assert instructor.open(f"/classes/{cast.class_id}/pulls/hold-point{query}").status == 404
