"""Answers as they are typed: kept, counted once, never lost."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest
from sqlalchemy import func, select

from coursekit.problems import Problems
from coursekit.services import answering, teaching
from coursekit.services.answering import Join, TypedAnswer
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded
from coursekit.store.tables import Answer, Attempt
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import ANSWERS, OWN_RIG, SEED, answer, handed_in, started


def saved(unit: Unit, cast: Cast, attempt_id: int) -> Any:
    return answering.attempt_view(unit, cast.student.actor, attempt_id).answers


def test_an_attempt_keeps_the_numbers_that_the_student_was_given(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)
    view = answering.attempt_view(unit, cast.student.actor, attempt_id)
    with unit.read() as session:
        kept = session.get_one(Attempt, attempt_id)
        snapshot, digest, solver = kept.variation, kept.digest, kept.solver_version

    assert view.seed == SEED
    assert set(snapshot) == {"stuck_vehicle.mass", "ground.slope"}
    assert view.scenario.shown["stuck_vehicle.mass"] == snapshot["stuck_vehicle.mass"]
    assert digest == view.scenario.digest
    assert digest.startswith("sha256:")
    assert solver == "2"


def test_starting_twice_gives_the_same_attempt(unit: Unit, cast: Cast, now: datetime) -> None:
    assert started(unit, cast, now, seed=1) == started(unit, cast, now, seed=2)


def test_without_a_seed_one_is_drawn(unit: Unit, cast: Cast, now: datetime) -> None:
    seeds = set()
    for number in range(3):
        joined = answering.join_class(unit, Join(cast.join_code, f"Student {number}"), now)
        actor = joined.person.actor
        attempt_id = answering.start_attempt(unit, actor, cast.class_scenario_id, now)
        seeds.add(answering.attempt_view(unit, actor, attempt_id).seed)

    assert len(seeds) == 3


def test_an_answer_is_kept_as_it_was_typed(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = started(unit, cast, now)
    answer(unit, cast, now, attempt_id, total=" 6,4 kN ", build=OWN_RIG, bin=["old-strap"])

    assert saved(unit, cast, attempt_id) == {
        "total": " 6,4 kN ",
        "build": OWN_RIG,
        "bin": ["old-strap"],
    }


def test_the_newest_answer_counts_and_the_older_ones_stay(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)
    for number, typed in enumerate(["6 kN", "7 kN", "8 kN"]):
        one = TypedAnswer(attempt_id, "total", typed, f"key-{number:05}")
        answering.save_answer(unit, cast.student.actor, one, now)

    assert saved(unit, cast, attempt_id) == {"total": "8 kN"}
    with unit.read() as session:
        assert session.scalar(select(func.count()).select_from(Answer)) == 3


def test_an_answer_may_be_taken_back(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = started(unit, cast, now)
    for number, typed in enumerate(["6 kN", ""]):
        one = TypedAnswer(attempt_id, "total", typed, f"key-{number:05}")
        answering.save_answer(unit, cast.student.actor, one, now)

    assert saved(unit, cast, attempt_id) == {}


def test_an_answer_sent_twice_counts_once(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = started(unit, cast, now)
    one = TypedAnswer(attempt_id, "total", "6.4 kN", "key-00001")
    first = answering.save_answer(unit, cast.student.actor, one, now)
    again = answering.save_answer(unit, cast.student.actor, one, now + timedelta(minutes=5))

    assert (first.was_there, again.was_there) == (False, True)
    assert again.received_at == first.received_at == now


def test_a_queue_replayed_in_any_order_gives_the_same_history(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)
    queue = [
        TypedAnswer(attempt_id, task, typed, f"key-{number:05}")
        for number, (task, typed) in enumerate(ANSWERS.items())
    ]
    for one in [*queue[1::2], *reversed(queue), *queue]:
        answering.save_answer(unit, cast.student.actor, one, now)

    with unit.read() as session:
        assert session.scalar(select(func.count()).select_from(Answer)) == len(queue)
    assert saved(unit, cast, attempt_id) == ANSWERS


def test_a_key_that_comes_with_another_answer_is_a_conflict(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)
    one = TypedAnswer(attempt_id, "total", "6.4 kN", "key-00001")
    answering.save_answer(unit, cast.student.actor, one, now)

    for other in (replace(one, typed="9 kN"), replace(one, task_id="weak")):
        with pytest.raises(Conflict):
            answering.save_answer(unit, cast.student.actor, other, now)
    assert saved(unit, cast, attempt_id) == {"total": "6.4 kN"}


@pytest.mark.parametrize("key", ["", "short", "x" * 81, "with/slash", "with blank 1"])
def test_a_key_is_what_a_device_makes(unit: Unit, cast: Cast, now: datetime, key: str) -> None:
    attempt_id = started(unit, cast, now)
    one = TypedAnswer(attempt_id, "total", "6.4 kN", key)
    with pytest.raises(Problems, match="client_key"):
        answering.save_answer(unit, cast.student.actor, one, now)


def test_an_answer_to_no_task_is_not_found(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = started(unit, cast, now)
    with pytest.raises(NotFound, match="task"):
        answer(unit, cast, now, attempt_id, nothing="6.4 kN")


def test_an_answer_of_absurd_length_is_refused(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = started(unit, cast, now)
    with pytest.raises(Problems, match="too long"):
        answer(unit, cast, now, attempt_id, total="9" * 20_001)


@pytest.mark.parametrize("typed", ["\x00", "💥" * 50, "9" * 400, "NaN kN", "-1e999 kN", "t"])
def test_any_text_is_kept_and_marked(unit: Unit, cast: Cast, now: datetime, typed: str) -> None:
    attempt_id = handed_in(unit, cast, now, total=typed)
    result = answering.result_view(unit, cast.student.actor, attempt_id)

    assert result.answers["total"] == typed
    assert result.tasks[0].verdict == "wrong"


def test_after_the_close_nothing_is_taken_but_what_is_there_stays(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)
    answer(unit, cast, now, attempt_id, total="6.4 kN")
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)

    with pytest.raises(Refused, match="closed"):
        answer(unit, cast, now, attempt_id, weak="winch-line")
    with pytest.raises(Refused, match="closed"):
        answering.submit_attempt(unit, cast.student.actor, attempt_id, now)
    with pytest.raises(Refused, match="not been handed in"):
        answering.result_view(unit, cast.student.actor, attempt_id)
    assert saved(unit, cast, attempt_id) == {"total": "6.4 kN"}


def test_a_repeat_is_acknowledged_even_after_the_close(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)
    one = TypedAnswer(attempt_id, "total", "6.4 kN", "key-00001")
    answering.save_answer(unit, cast.student.actor, one, now)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)

    assert answering.save_answer(unit, cast.student.actor, one, now).was_there


def test_a_closed_class_starts_nothing_new(unit: Unit, cast: Cast, now: datetime) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)

    with pytest.raises(Refused, match="closed"):
        started(unit, cast, now)


def test_another_students_attempt_is_not_found(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = started(unit, cast, now)
    bo = answering.join_class(unit, Join(cast.join_code, "Bo"), now).person.actor

    with pytest.raises(NotFound):
        answering.attempt_view(unit, bo, attempt_id)
    with pytest.raises(NotFound):
        answering.submit_attempt(unit, bo, attempt_id, now)
    one = TypedAnswer(attempt_id, "total", "1 kN", "key-00001")
    with pytest.raises(NotFound):
        answering.save_answer(unit, bo, one, now)


def test_an_instructor_looks_on_and_answers_nothing(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = started(unit, cast, now)
    answer(unit, cast, now, attempt_id, total="6.4 kN")
    seen = answering.attempt_view(unit, cast.instructor.actor, attempt_id)

    assert seen.answers == {"total": "6.4 kN"}
    assert seen.student == "Ana Lim"
    with pytest.raises(RoleNeeded):
        answering.submit_attempt(unit, cast.instructor.actor, attempt_id, now)
