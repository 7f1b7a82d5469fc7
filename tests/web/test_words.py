"""Every key of a file has its words, and every caution its source."""

from dataclasses import replace

import pytest
from flask import Flask

from coursekit.files.quantity_names import WHOLE_RIG
from coursekit.mechanics.tables import SURFACES
from coursekit.rigging.gear import CONDITIONS, HITCHES, ITEM_KINDS, Item
from coursekit.rigging.rig import RIG_METHODS
from coursekit.rigging.site import ANCHOR_KINDS, BOGGED
from coursekit.rigging.vehicle import POINT_KINDS
from coursekit.scenario.model import LEVELS
from coursekit.scenario.tasks import QuantityTask
from coursekit.wear.lists import REGISTER_KINDS
from coursekit.web import words
from coursekit.web.cautions import CAUTIONS, cautions_for
from coursekit.web.questions import QUANTITIES, question
from tests.core.scenario.stock import IDS, scenario


@pytest.mark.parametrize(
    ("known", "worded"),
    [
        ((*REGISTER_KINDS, *POINT_KINDS, *ANCHOR_KINDS), words.KINDS),
        (CONDITIONS, words.CONDITIONS),
        (SURFACES, words.SURFACES),
        (BOGGED, words.BOGGED),
        (RIG_METHODS, words.RIG_METHODS),
        (HITCHES, words.HITCHES),
        (LEVELS, words.LEVELS),
        (WHOLE_RIG, QUANTITIES),
    ],
)
def test_every_key_has_its_words(known: tuple[str, ...], worded: dict[str, str]) -> None:
    assert set(known) - set(worded) == set()


@pytest.mark.parametrize("kind", ITEM_KINDS)
@pytest.mark.parametrize("condition", CONDITIONS)
def test_a_condition_is_told_as_seen_on_every_kind(app: Flask, kind: str, condition: str) -> None:
    with app.test_request_context():
        told = words.condition_seen(Item("x", kind), condition)

    assert told
    assert condition not in told.split()


def test_steel_shows_other_marks_than_rope(app: Flask) -> None:
    with app.test_request_context():
        on_steel = words.condition_seen(Item("bow-1", "bow-shackle"), "worn")
        on_rope = words.condition_seen(Item("rope-1", "kinetic-rope"), "worn")

    assert on_steel != on_rope


@pytest.mark.parametrize("method", RIG_METHODS)
def test_each_method_has_its_cautions_and_each_caution_its_source(method: str) -> None:
    cautions = cautions_for([method])

    assert len(cautions) >= 4
    assert all(caution.source for caution in cautions)


def test_the_stand_off_of_a_snatch_is_told_for_kinetic_pulls_only() -> None:
    only_kinetic = [c for c in CAUTIONS if c.methods == {"kinetic"}]

    assert any("one and a half times" in str(caution.text) for caution in only_kinetic)


def test_each_hold_line_has_its_questions(app: Flask) -> None:
    own = scenario("hill-road")
    names = ("hold.load", "hold.line.needed", "hold.2.load", "hold.2.line.needed")
    with app.test_request_context():
        told = [question(own, QuantityTask("q", 1.0, of=name)) for name in names]

    assert told[1] == "For the hold line: How long is the path of the line?"
    assert told[2] == "For hold line 2: What is the load on the hold line?"
    assert told[3] == "For hold line 2: How long is the path of the line?"


@pytest.mark.parametrize("name", IDS)
def test_every_task_has_a_question_with_nothing_left_to_fill_in(app: Flask, name: str) -> None:
    own = scenario(name)
    with app.test_request_context():
        told = [question(own, replace(task, prompt=None)) for task in own.tasks]

    assert all(text.endswith("?") and "%" not in text and "_" not in text for text in told)
