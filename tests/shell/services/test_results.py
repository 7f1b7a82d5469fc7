"""The results of a class: what counts of each student, and what it comes to."""

from datetime import datetime

import pytest

from coursekit.services import answering
from coursekit.services.answering import Join
from coursekit.services.errors import NotFound, RoleNeeded
from coursekit.services.results import class_results
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import ANSWERS, handed_in, started


def test_a_student_who_handed_nothing_in_is_not_yet_competent(unit: Unit, cast: Cast) -> None:
    ana = class_results(unit, cast.instructor.actor, cast.class_id).students[0]

    assert (ana.name, ana.outcome, ana.has_outcome) == ("Ana Lim", "not-yet", False)
    assert ana.scenarios[0].counting is None
    assert (ana.marks, ana.out_of, ana.strands) == (0.0, 0.0, ())


def test_a_scenario_under_way_counts_once_it_is_handed_in(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)
    place = class_results(unit, cast.instructor.actor, cast.class_id).students[0].scenarios[0]
    assert (place.is_under_way, place.tries) == (True, ())

    answering.submit_attempt(unit, cast.student.actor, attempt_id, now)
    place = class_results(unit, cast.instructor.actor, cast.class_id).students[0].scenarios[0]
    assert (place.is_under_way, len(place.tries)) == (False, 1)


def test_marks_strands_and_stops_are_those_of_the_marked_paper(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = handed_in(unit, cast, now)
    paper = answering.result_view(unit, cast.instructor.actor, attempt_id)
    ana = class_results(unit, cast.instructor.actor, cast.class_id).students[0]

    (made,) = ana.counting
    assert (ana.marks, ana.out_of) == (paper.marks, paper.out_of)
    assert (made.outcome, made.stops) == (paper.outcome, paper.stops)
    assert ana.outcome == paper.outcome
    assert sum(strand.marks for strand in ana.strands) == paper.marks
    assert made.decision.outcome == paper.outcome
    assert made.decision.rule.pass_share == 0.75


def test_a_wrong_choice_that_is_critical_makes_the_class_unsafe(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now, **{**ANSWERS, "go": "no-go"})
    ana = class_results(unit, cast.instructor.actor, cast.class_id).students[0]

    assert ana.outcome == "unsafe"
    assert ana.stops


def test_students_stand_by_name(unit: Unit, cast: Cast, now: datetime) -> None:
    answering.join_class(unit, Join(cast.join_code, "Aaron Bell"), now)
    found = class_results(unit, cast.instructor.actor, cast.class_id)

    assert [student.name for student in found.students] == ["Aaron Bell", "Ana Lim"]
    assert found.scenarios[0].slug == "ford-exit"
    assert found.scenarios[0].standard_error is None


def test_results_are_for_instructors_and_the_head_of_the_school(unit: Unit, cast: Cast) -> None:
    for member in (cast.student, cast.storekeeper):
        with pytest.raises(RoleNeeded):
            class_results(unit, member.actor, cast.class_id)
    with pytest.raises(NotFound):
        class_results(unit, cast.outsider.actor, cast.class_id)
