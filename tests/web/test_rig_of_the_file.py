"""Where a student is asked to build a rig, the one of the file would be the answer."""

from __future__ import annotations

import html

import pytest
from flask import Flask

from coursekit.services import answering
from coursekit.services.answering import AttemptView
from coursekit.store.unit import Unit
from coursekit.web.questions import about, asks_to_build
from coursekit.web.rig_text import rig_text
from tests.cast import Cast
from tests.core.scenario.stock import IDS, scenario
from tests.web.visitor import Visitor


@pytest.fixture
def view(unit: Unit, cast: Cast, attempt: str) -> AttemptView:
    return answering.attempt_view(unit, cast.student.actor, int(attempt.rsplit("/", 1)[-1]))


@pytest.mark.parametrize("page", ["", "/tasks/total", "/tasks/build", "/tasks/rear"])
def test_the_rig_of_the_file_is_neither_drawn_nor_told(
    app: Flask, student: Visitor, attempt: str, view: AttemptView, page: str
) -> None:
    assert asks_to_build(view.scenario)
    assert view.scenario.given_rig is not None
    with app.test_request_context():
        told = rig_text(view.scenario, view.scenario.given_rig)

    shown = html.unescape(student.open(f"{attempt}{page}").html)
    assert told
    assert [line for line in told if line in shown] == []
    assert "The line runs from" not in shown


@pytest.mark.parametrize("name", IDS)
def test_no_question_speaks_of_a_given_rig_where_one_is_to_be_built(app: Flask, name: str) -> None:
    own = scenario(name)
    with app.test_request_context():
        said = {about(own, task) for task in own.tasks}

    assert ("For the rig that is given." in said) != asks_to_build(own)
