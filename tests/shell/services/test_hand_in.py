"""Handing in: marked against the student's own numbers, once, and kept with reasons."""

from datetime import datetime, timedelta

import pytest
from sqlalchemy import func, select

from coursekit.assessment.marking import mark_paper
from coursekit.files.replies import replies_of
from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.solver import solve
from coursekit.services import answering
from coursekit.services.errors import Refused
from coursekit.store.tables import AttemptResult
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import ANSWERS, OWN_RIG, answer, handed_in, started


def test_an_answer_is_right_against_the_students_own_numbers(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)
    scenario = answering.attempt_view(unit, cast.student.actor, attempt_id).scenario
    truth = solve(scenario.situation, scenario.rigs["given"]).values["resistance.total"]
    answer(unit, cast, now, attempt_id, total=f"{truth / 1000:.3f} kN")
    answering.submit_attempt(unit, cast.student.actor, attempt_id, now)
    total = answering.result_view(unit, cast.student.actor, attempt_id).tasks[0]

    assert (total.verdict, total.marks, total.out_of) == ("right", 3.0, 3.0)
    assert total.truth == pytest.approx(truth)


def test_what_is_stored_is_what_marking_says(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = handed_in(unit, cast, now)
    result = answering.result_view(unit, cast.student.actor, attempt_id)
    replies = replies_of(result.scenario, ANSWERS, decimal_comma=False)
    paper = mark_paper(result.scenario, replies, shower(units_of(result.scenario)))

    assert (result.marks, result.out_of, result.safe, result.outcome) == (
        paper.marks,
        paper.out_of,
        paper.is_safe,
        paper.outcome,
    )
    assert [task.task_id for task in result.tasks] == [task.task for task in paper.tasks]
    assert [task.verdict for task in result.tasks] == [task.verdict for task in paper.tasks]
    assert [task.slips for task in result.tasks] == [task.slips for task in paper.tasks]
    told = [[str(said) for said in task.feedback] for task in result.tasks]
    assert told == [[str(said) for said in task.feedback] for task in paper.tasks]
    assert {found["rule"] for found in result.findings} == {
        found.rule for task in paper.tasks for found in task.findings
    }


def test_a_rig_form_is_marked_by_the_rig_that_it_built(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    form = {"fields": {"lines-0-from": "recovery_vehicle.winch"}, "rig": OWN_RIG}
    attempt_id = handed_in(unit, cast, now, build=form)
    result = answering.result_view(unit, cast.student.actor, attempt_id)
    build = next(task for task in result.tasks if task.task_id == "build")

    assert build.marks > 0.0
    assert result.answers["build"] == form


def test_an_unsafe_rig_makes_the_outcome_unsafe(unit: Unit, cast: Cast, now: datetime) -> None:
    line = {**OWN_RIG["lines"][0], "to": {"at": "stuck_vehicle.rear"}}
    attempt_id = handed_in(unit, cast, now, **{**ANSWERS, "build": {**OWN_RIG, "lines": [line]}})
    result = answering.result_view(unit, cast.student.actor, attempt_id)

    assert (result.safe, result.outcome) == (False, "unsafe")
    assert "no-joiner" in {found["rule"] for found in result.findings}
    assert result.stops


def test_nothing_answered_is_missing_and_still_marked(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)
    answering.submit_attempt(unit, cast.student.actor, attempt_id, now)
    result = answering.result_view(unit, cast.student.actor, attempt_id)

    assert {task.verdict for task in result.tasks} == {"missing"}
    assert (result.marks, result.outcome) == (0.0, "not-yet")


def test_handed_in_twice_it_counts_once(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = handed_in(unit, cast, now)
    later = now + timedelta(minutes=3)
    answering.submit_attempt(unit, cast.student.actor, attempt_id, later)

    with unit.read() as session:
        assert session.scalar(select(func.count()).select_from(AttemptResult)) == 1
    result = answering.result_view(unit, cast.student.actor, attempt_id)
    assert result.submitted_at == now


def test_after_handing_in_nothing_is_taken(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = handed_in(unit, cast, now, total="6.4 kN")

    with pytest.raises(Refused, match="handed in already"):
        answer(unit, cast, now, attempt_id, weak="winch-line")


def test_the_instructor_sees_the_result_too(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = handed_in(unit, cast, now)

    assert answering.result_view(unit, cast.instructor.actor, attempt_id).student == "Ana Lim"
