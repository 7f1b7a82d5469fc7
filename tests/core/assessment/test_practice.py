"""Practice: dates move apart while a skill goes right, come back when it fails; weakest first."""

from datetime import UTC, datetime, timedelta

import pytest
from fsrs import Card, Rating, Scheduler
from hypothesis import given
from hypothesis import strategies as st

from coursekit.assessment.practice import (
    Skill,
    after_try,
    in_order,
    retention,
    skill_of,
    skill_of_slip,
)
from coursekit.files.scenario_file import read_scenario_text
from coursekit.scenario.tasks import (
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
    RigTask,
)
from tests.shell.files.ford import FILE, FORD

NOW = datetime(2026, 6, 13, 8, 30, tzinfo=UTC)
VERDICTS = st.sampled_from(["right", "carried", "unit", "slip", "part", "wrong", "missing"])


def tried(*verdicts: str, apart: timedelta = timedelta(days=7)) -> Skill:
    state = None
    for number, verdict in enumerate(verdicts):
        state = after_try(state, verdict, NOW + number * apart)
    return Skill("pull", tries=len(verdicts), state=state)


def test_a_skill_that_goes_right_week_by_week_comes_up_ever_later() -> None:
    gaps = []
    for number in range(2, 6):
        skill = tried(*["right"] * number)
        assert skill.due is not None
        gaps.append(skill.due - (NOW + (number - 1) * timedelta(days=7)))
    assert gaps == sorted(gaps)
    assert gaps[-1] > timedelta(days=14)


def test_a_skill_that_fails_comes_back_in_the_same_sitting() -> None:
    for verdict in ("slip", "wrong", "missing"):
        due = tried("right", "right", verdict).due
        assert due == NOW + timedelta(days=14, minutes=10)


@pytest.mark.independent("the open algorithm's own package, driven by hand")
def test_dates_are_those_of_the_open_algorithm() -> None:
    scheduler = Scheduler(
        learning_steps=[timedelta(minutes=10)],
        relearning_steps=[timedelta(minutes=10)],
        maximum_interval=365,
        enable_fuzzing=False,
    )
    card = Card(due=NOW)
    for number, rating in enumerate((Rating.Good, Rating.Hard, Rating.Again, Rating.Good)):
        card, _log = scheduler.review_card(card, rating, NOW + number * timedelta(days=7))
    assert tried("right", "unit", "slip", "right").due == card.due


@given(st.lists(VERDICTS, min_size=1, max_size=8))
def test_the_same_tries_give_the_same_dates(verdicts: list[str]) -> None:
    assert tried(*verdicts).state == tried(*verdicts).state


@given(st.lists(VERDICTS, min_size=1, max_size=8), st.integers(0, 60))
def test_what_was_learned_fades_with_time(verdicts: list[str], days: int) -> None:
    state = tried(*verdicts).state
    assert state is not None
    last = NOW + (len(verdicts) - 1) * timedelta(days=7)
    soon, later = retention(state, last), retention(state, last + timedelta(days=days))
    assert 0.0 <= later <= soon <= 1.0


def test_a_skill_is_what_is_asked_whatever_the_place() -> None:
    assert skill_of(QuantityTask("a", 1, of="place.oak.load")) == "place.load"
    assert skill_of(QuantityTask("a", 1, of="place.stuck_vehicle.rear.load")) == "place.load"
    assert skill_of(QuantityTask("a", 1, of="item.sling-1.limit")) == "item.limit"
    assert skill_of(QuantityTask("a", 1, of="resistance.total")) == "resistance.total"
    assert skill_of(ItemTask("a", 1)) == "weakest"
    assert skill_of(ItemsTask("a", 1)) == "unfit"
    assert skill_of(ChoiceTask("a", 1)) == "decision"
    assert skill_of(OrderTask("a", 1)) == "order"
    assert skill_of(RigTask("a", 1)) == "rig"


def test_a_slip_points_to_the_step_in_which_it_is_made() -> None:
    scenario = read_scenario_text(FORD, FILE)
    total = scenario.task("total")
    assert skill_of_slip(scenario, total, "rolling-left-out") == "resistance.rolling"
    assert skill_of_slip(scenario, total, "unit-slip") is None
    assert skill_of_slip(scenario, scenario.task("go"), "unit-slip") is None


def test_the_larger_share_missed_in_class_comes_first() -> None:
    seldom = Skill("a-seldom", in_class=("right", "right", "right", "right", "wrong"))
    always = Skill("z-always", in_class=("wrong", "slip", "missing"))
    half = Skill("m-half", in_class=("carried", "wrong"))
    order = [skill.key for skill in in_order([seldom, half, always], NOW)]
    assert order == ["z-always", "m-half", "a-seldom"]


def test_what_was_weak_in_class_comes_first_then_what_is_forgotten_then_what_is_new() -> None:
    weak = Skill("weak", in_class=("right", "slip"))
    forgotten = Skill("forgotten", state=tried("wrong").state)
    new, known = Skill("new"), Skill("known", in_class=("right",))
    later = Skill("later", state=tried("right", "right", apart=timedelta()).state)
    at = NOW + timedelta(hours=1)
    order = in_order([later, known, new, forgotten, weak], at)
    assert [skill.key for skill in order] == ["weak", "forgotten", "new", "known", "later"]
    assert [skill.is_due(at) for skill in order] == [True, True, True, True, False]
