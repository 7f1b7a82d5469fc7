"""Another try: after the wait, with numbers that the student has not seen; all of them stay."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from coursekit.assessment.school_policy import USUAL
from coursekit.services import answering, policies, retries, teaching
from coursekit.services.class_now import class_now
from coursekit.services.errors import NotFound, Refused, RoleNeeded
from coursekit.services.policies import PolicyChange
from coursekit.services.results import class_results
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import ANSWERS, SEED, answer, handed_in, started

DAY = timedelta(hours=24)


def again(unit: Unit, cast: Cast, at: datetime, *seeds: int) -> int:
    given = seeds or None
    return retries.try_again(unit, cast.student.actor, cast.class_scenario_id, at, given)


def own_policy(unit: Unit, cast: Cast, now: datetime, **changed: object) -> None:
    change = PolicyChange(replace(USUAL, **changed), "x", seen=0)  # type: ignore[arg-type]
    policies.change_policy(unit, cast.instructor.actor, change, now)


def test_a_try_that_was_not_enough_may_be_tried_again_after_a_day(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    first = handed_in(unit, cast, now, total="1 N")
    mine = answering.my_class(unit, cast.student.actor).scenarios[0]
    assert mine.again_from == now + DAY

    with pytest.raises(Refused, match="wait before another try is not over"):
        again(unit, cast, now + DAY - timedelta(seconds=1))
    second = again(unit, cast, now + DAY)

    assert second != first
    mine = answering.my_class(unit, cast.student.actor).scenarios[0]
    assert (mine.attempt_id, mine.try_number, mine.status) == (second, 2, "started")


def test_a_seed_that_brings_numbers_already_seen_is_passed_over(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    first = handed_in(unit, cast, now, total="1 N")
    second = again(unit, cast, now + DAY, SEED, SEED + 1)

    shown = [answering.attempt_view(unit, cast.student.actor, one) for one in (first, second)]
    assert [one.seed for one in shown] == [SEED, SEED + 1]
    assert shown[0].scenario.shown != shown[1].scenario.shown
    assert shown[0].scenario.digest == shown[1].scenario.digest


def test_where_all_numbers_are_seen_the_instructor_is_asked(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now, total="1 N")
    with pytest.raises(Refused, match="seen all the numbers"):
        again(unit, cast, now + DAY, SEED)


def test_a_school_may_give_the_same_numbers_and_no_wait(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    own_policy(unit, cast, now, retry_other_numbers=False, retry_wait_hours=0)
    first = handed_in(unit, cast, now, total="1 N")
    second = again(unit, cast, now)

    seeds = [answering.attempt_view(unit, cast.student.actor, a).seed for a in (first, second)]
    assert seeds == [SEED, SEED]


def test_the_last_try_counts_and_all_of_them_stay(unit: Unit, cast: Cast, now: datetime) -> None:
    first = handed_in(unit, cast, now, go="no-go")
    second = again(unit, cast, now + DAY)
    result = class_results(unit, cast.instructor.actor, cast.class_id).students[0]
    assert (result.outcome, result.scenarios[0].is_under_way) == ("unsafe", True)

    answer(unit, cast, now + DAY, second, total="1 N", go="go")
    answering.submit_attempt(unit, cast.student.actor, second, now + DAY)
    result = class_results(unit, cast.instructor.actor, cast.class_id).students[0]

    assert result.outcome == "not-yet"
    made = result.scenarios[0].tries
    assert [(one.attempt_id, one.number, one.outcome) for one in made] == [
        (first, 1, "unsafe"),
        (second, 2, "not-yet"),
    ]
    ladder = retries.tries(unit, cast.instructor.actor, second)
    assert [(one.attempt_id, one.outcome) for one in ladder] == [
        (first, "unsafe"),
        (second, "not-yet"),
    ]


def test_class_now_shows_how_far_the_last_try_is(unit: Unit, cast: Cast, now: datetime) -> None:
    handed_in(unit, cast, now, go="no-go")
    second = again(unit, cast, now + DAY)
    (student,) = class_now(unit, cast.instructor.actor, cast.class_id).students

    assert [(one.attempt_id, one.status) for one in student.attempts] == [(second, "started")]


def test_a_try_under_way_is_gone_on_with(unit: Unit, cast: Cast, now: datetime) -> None:
    first = started(unit, cast, now)
    assert again(unit, cast, now) == first
    answering.submit_attempt(unit, cast.student.actor, first, now)
    second = again(unit, cast, now + DAY)

    assert again(unit, cast, now + DAY) == second
    assert started(unit, cast, now + DAY) == second


def test_a_closed_class_takes_no_other_try(unit: Unit, cast: Cast, now: datetime) -> None:
    handed_in(unit, cast, now, total="1 N")
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)

    with pytest.raises(Refused, match="class is closed"):
        again(unit, cast, now + DAY)


def test_what_is_passed_is_not_tried_again(unit: Unit, cast: Cast, now: datetime) -> None:
    handed_in(unit, cast, now, **{**ANSWERS, "total": "7.6 kN", "rear": "7.6 kN"})
    (mine,) = answering.my_class(unit, cast.student.actor).scenarios
    assert (mine.outcome, mine.again_from) == ("competent", None)

    with pytest.raises(Refused, match="passed this already"):
        again(unit, cast, now + DAY)


def test_a_try_needs_a_first_one_and_the_student_of_the_class(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    with pytest.raises(NotFound):
        again(unit, cast, now)
    with pytest.raises(RoleNeeded):
        retries.try_again(unit, cast.instructor.actor, cast.class_scenario_id, now)
