"""The class right now: who is in, what arrived, and in how many queries."""

from datetime import datetime

import pytest

from coursekit.services import answering, kit
from coursekit.services.answering import Join, TypedAnswer
from coursekit.services.class_now import ClassNow, class_now
from coursekit.services.errors import NotFound
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import answer, handed_in, pulled, started
from tests.shell.statements import counted


def seen(unit: Unit, cast: Cast) -> ClassNow:
    return class_now(unit, cast.instructor.actor, cast.class_id)


def test_a_student_who_joined_is_in(unit: Unit, cast: Cast) -> None:
    assert [(student.name, student.attempts) for student in seen(unit, cast).students] == [
        ("Ana Lim", ())
    ]


def test_answers_arrive_task_by_task(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = started(unit, cast, now)
    answer(unit, cast, now, attempt_id, total="6.4 kN", weak="winch-line")
    found = seen(unit, cast)

    sent = {task.task.id: task.sent for task in found.scenarios[0].tasks}
    assert {task for task, number in sent.items() if number} == {"total", "weak"}
    assert (found.students[0].attempts[0].answered, found.students[0].attempts[0].tasks) == (2, 7)
    assert found.students[0].attempts[0].marks is None


def test_an_answer_that_was_taken_back_is_not_counted(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)
    for number, typed in enumerate(["6.4 kN", ""]):
        one = TypedAnswer(attempt_id, "total", typed, f"key-{number:05}")
        answering.save_answer(unit, cast.student.actor, one, now)

    assert seen(unit, cast).scenarios[0].tasks[0].sent == 0


def test_marks_arrive_when_they_are_handed_in(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = handed_in(unit, cast, now)
    result = answering.result_view(unit, cast.student.actor, attempt_id)
    found = seen(unit, cast)
    row = found.students[0].attempts[0]

    assert (row.status, row.marks, row.out_of, row.outcome) == (
        "submitted",
        result.marks,
        result.out_of,
        result.outcome,
    )
    given = [task.marks[0] for task in found.scenarios[0].tasks]
    assert [mark.verdict for mark in given] == [task.verdict for task in result.tasks]
    assert [mark.truth for mark in given] == [task.truth for task in result.tasks]
    assert all(mark.student == "Ana Lim" for mark in given)


def test_verdicts_and_slips_are_counted_most_frequent_first(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    for number, typed in enumerate(["99 kN", "98 kN", ""]):
        joined = answering.join_class(unit, Join(cast.join_code, f"Student {number}"), now)
        actor = joined.person.actor
        attempt_id = answering.start_attempt(unit, actor, cast.class_scenario_id, now)
        one = TypedAnswer(attempt_id, "total", typed, "key-00001")
        answering.save_answer(unit, actor, one, now)
        answering.submit_attempt(unit, actor, attempt_id, now)

    total = seen(unit, cast).scenarios[0].tasks[0]
    assert total.verdicts == (("wrong", 2), ("missing", 1))
    assert total.sent == 2


def test_pulls_of_the_class_are_listed(unit: Unit, cast: Cast, now: datetime) -> None:
    pulled(unit, cast, now)
    pull = seen(unit, cast).pulls[0]

    assert (pull.scenario, pull.method, pull.ended, pull.by, pull.items) == (
        "Bogged at the ford exit",
        "winch",
        "came-free",
        "Mara Quint",
        3,
    )


def test_a_class_that_is_not_there_is_not_found(unit: Unit, cast: Cast) -> None:
    with pytest.raises(NotFound):
        class_now(unit, cast.instructor.actor, 999)


@pytest.mark.parametrize("students", [1, 12])
def test_a_class_takes_seven_queries_however_many_students_it_has(
    unit: Unit, cast: Cast, now: datetime, students: int
) -> None:
    for number in range(students):
        joined = answering.join_class(unit, Join(cast.join_code, f"Student {number}"), now)
        answering.start_attempt(unit, joined.person.actor, cast.class_scenario_id, now)

    with counted() as statements:
        seen(unit, cast)
    assert len(statements) == 7


def test_the_kit_takes_two_queries_and_an_item_three(unit: Unit, cast: Cast, now: datetime) -> None:
    mara = cast.instructor.actor
    with counted() as of_list:
        kit.list_items(unit, mara, now.date())
    with counted() as of_item:
        kit.item_life(unit, mara, cast.items["Rope 1"], now.date())

    assert (len(of_list), len(of_item)) == (2, 3)
