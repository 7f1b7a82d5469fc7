"""The reply to a follow-up question: kept beside the mark, and what comes of it."""

from datetime import datetime, timedelta

import pytest

from coursekit.assessment.follow_up import Choice, Fresh
from coursekit.problems import CoursekitError
from coursekit.services import answering, figures, following_up, practising
from coursekit.services.errors import NotFound, Refused
from coursekit.services.following_up import Reply, reply_to_follow_up
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import answer, slip_text, slipped, started

SLIP = "weight-for-resistance"


@pytest.fixture
def paper(unit: Unit, cast: Cast, now: datetime) -> int:
    """A paper whose total is the whole weight."""
    attempt_id = started(unit, cast, now)
    text = slipped(unit, cast, attempt_id, SLIP)
    answer(unit, cast, now, attempt_id, total=text, weak="winch-line")
    answering.submit_attempt(unit, cast.student.actor, attempt_id, now)
    return attempt_id


def same_way_again(unit: Unit, cast: Cast, paper: int) -> Reply:
    view = following_up.follow_up_view(unit, cast.student.actor, paper, "total")
    asked = view.asked
    if isinstance(asked, Choice):
        return Reply(paper, "total", SLIP)
    return Reply(paper, "total", slip_text(asked.scenario, SLIP))


def test_a_slip_is_asked_back_with_numbers_of_its_own(unit: Unit, cast: Cast, paper: int) -> None:
    view = following_up.follow_up_view(unit, cast.student.actor, paper, "total")

    assert isinstance(view.asked, Fresh)
    assert view.asked.scenario.situation != view.scenario.situation
    assert view.reply is None


def test_a_reply_changes_no_mark_and_stands_beside_it(
    unit: Unit, cast: Cast, paper: int, now: datetime
) -> None:
    before = answering.result_view(unit, cast.student.actor, paper)
    reply_to_follow_up(unit, cast.student.actor, same_way_again(unit, cast, paper), now)
    after = answering.result_view(unit, cast.instructor.actor, paper)

    assert (after.marks, after.tasks, after.outcome) == (before.marks, before.tasks, before.outcome)
    assert after.follow_ups["total"].outcome == "confirmed"
    assert after.follow_ups["total"].slip == SLIP


def test_a_confirmed_slip_comes_first_in_practice_until_it_is_tried(
    unit: Unit, cast: Cast, paper: int, now: datetime
) -> None:
    reply_to_follow_up(unit, cast.student.actor, same_way_again(unit, cast, paper), now)
    first = practising.my_practice(unit, cast.student.actor, now).skills[0]
    assert first.slip_is_fresh
    later = now + timedelta(hours=1)
    question = practising.ask(unit, cast.student.actor, later, first.key)
    practising.answer_question(unit, cast.student.actor, question, "1 N", later)

    skills = practising.my_practice(unit, cast.student.actor, later).skills
    assert not any(skill.slip_is_fresh for skill in skills)


def test_the_class_statistics_say_how_many_confirmed_it(
    unit: Unit, cast: Cast, paper: int, now: datetime
) -> None:
    reply_to_follow_up(unit, cast.student.actor, same_way_again(unit, cast, paper), now)
    (found,) = figures.class_figures(unit, cast.instructor.actor, cast.class_id).scenarios

    assert found.confirmed("total", SLIP) == (1, 1)
    assert found.confirmed("total", "cosine-for-sine") == (0, 0)


def test_a_reply_counts_once_and_the_first_stands(
    unit: Unit, cast: Cast, paper: int, now: datetime
) -> None:
    reply = same_way_again(unit, cast, paper)
    reply_to_follow_up(unit, cast.student.actor, reply, now)
    reply_to_follow_up(unit, cast.student.actor, reply, now)

    with pytest.raises(Refused, match="first reply stands"):
        reply_to_follow_up(unit, cast.student.actor, Reply(paper, "total", "1 N"), now)


@pytest.mark.parametrize("task_id", ["weak", "go", "rear", "nothing"])
def test_where_nothing_was_diagnosed_nothing_is_asked(
    unit: Unit, cast: Cast, paper: int, now: datetime, task_id: str
) -> None:
    with pytest.raises(NotFound, match="no such follow-up question"):
        reply_to_follow_up(unit, cast.student.actor, Reply(paper, task_id, "1 N"), now)


def test_a_paper_that_is_not_handed_in_is_not_asked_about(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)

    with pytest.raises(NotFound):
        following_up.follow_up_view(unit, cast.student.actor, attempt_id, "total")


def test_nobody_replies_for_another(unit: Unit, cast: Cast, paper: int, now: datetime) -> None:
    for other in (cast.instructor, cast.storekeeper, cast.outsider):
        with pytest.raises(CoursekitError):
            reply_to_follow_up(unit, other.actor, Reply(paper, "total", "1 N"), now)


@pytest.mark.parametrize("typed", ["", "   ", "9" * 201])
def test_a_reply_must_be_one(unit: Unit, cast: Cast, paper: int, now: datetime, typed: str) -> None:
    with pytest.raises(CoursekitError, match="answer"):
        reply_to_follow_up(unit, cast.student.actor, Reply(paper, "total", typed), now)
