"""My practice: what to do next and why, fresh numbers, the mark at once, dates that move."""

import re
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from freezegun import freeze_time
from sqlalchemy import func, select

from coursekit.rigging.solver import solve
from coursekit.scenario.tasks import ItemTask, QuantityTask
from coursekit.services import answering, practising, preparing
from coursekit.services.errors import NotFound, RoleNeeded
from coursekit.store import tables
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.classroom import COMPETENT, answer, handed_in, slipped, started
from tests.shell.files.ford import changed
from tests.web.rigs import SINGLE_LINE
from tests.web.visitor import Visitor

ROLLING = "of: resistance.rolling"


def truth(unit: Unit, cast: Cast, question_id: int, now: datetime) -> str:
    """Return the right answer to a question by the solver: its truth is tested elsewhere."""
    view = practising.question_view(unit, cast.student.actor, question_id, now)
    assert isinstance(view.task, QuantityTask | ItemTask)
    solution = solve(view.scenario.situation, view.scenario.rigs[view.task.rig])
    if isinstance(view.task, ItemTask):
        assert solution.weakest is not None
        return solution.weakest.item
    unit_of = {"N": " N", "m": " m", "-": ""}
    value = solution.values[view.task.of]
    return f"{value:.6g}{unit_of[solution.chain.step(view.task.of).unit]}"


def asked(visitor: Visitor) -> int:
    return int(visitor.path.rsplit("/", 1)[1])


def test_what_an_open_class_works_on_is_not_practised_before_it_is_handed_in(
    student: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    page = student.open("/practice")
    assert page.heading == "There is nothing to practise yet"

    handed_in(unit, cast, now)
    # Of all that was never tried, a sitting's worth is asked.
    assert student.open("/practice").heading == "5 questions to practise now"


def test_what_went_wrong_in_class_comes_first_and_says_so(
    student: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now)
    page = student.open("/practice")
    assert "It went wrong in class, and you have not tried it since." in page.html


def test_a_question_is_marked_at_once_and_comes_up_again(
    student: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now)
    student.open("/practice")
    page = student.send(action="/practice/next", skill="resistance.total")
    question_id = asked(page)
    assert page.heading == "What is the total resistance?"
    assert "0 of 5 questions" in page.html

    page = page.send(answer=truth(unit, cast, question_id, now))

    assert page.heading == "Right"
    assert "This skill comes up again on" in page.html
    assert "1 of 5 questions" in page.html
    assert "1 of 1 right" in student.open("/practice").html


def test_a_wrong_answer_shows_the_mistake_and_the_worked_steps(
    student: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now)
    student.open("/practice")
    page = student.send(action="/practice/next", skill="resistance.total").send(answer="-5 kN")
    assert page.heading == "Not right: see why"
    assert '<ol class="working">' in page.html


def test_an_empty_answer_is_asked_for_and_a_bad_one_says_what_to_write(
    student: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now)
    student.open("/practice")
    page = student.send(action="/practice/next", skill="resistance.total")
    assert page.send(answer="").errors[0].endswith("Answer this, or go on without an answer.")
    assert "is not a number and a unit" in page.send(answer="much").errors[0]


def test_a_question_that_waits_is_asked_again_with_its_numbers(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now)
    actor = cast.student.actor
    first = practising.ask(unit, actor, now, "resistance.total", seed=1)
    assert practising.ask(unit, actor, now, "resistance.total", seed=2) == first
    practising.answer_question(unit, actor, first, "1 N", now)
    again = practising.ask(unit, actor, now, "resistance.total", seed=2)
    assert again != first


@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/Anchorage"])
def test_dates_are_those_of_the_school_s_own_zone(
    student: Visitor, unit: Unit, cast: Cast, now: datetime, zone: str
) -> None:
    handed_in(unit, cast, now)
    with unit.write() as session:
        session.get_one(tables.School, cast.student.actor.school_id).timezone = zone
    with freeze_time(now) as clock:
        for _ in range(2):
            student.open("/practice")
            page = student.send(action="/practice/next", skill="resistance.total")
            page.send(answer=truth(unit, cast, asked(page), now))
            clock.tick(timedelta(minutes=20))
        found = practising.my_practice(unit, cast.student.actor, now + timedelta(hours=1))
        skill = next(one for one in found.skills if one.key == "resistance.total")
        assert skill.due is not None
        day = skill.due.astimezone(ZoneInfo(zone))
        page = student.open("/practice")
        assert f"again on {day.day} {day:%b}" in page.html
        clock.move_to(skill.due + timedelta(minutes=1))
        later = practising.my_practice(unit, cast.student.actor, skill.due)
        assert next(one for one in later.skills if one.key == skill.key).is_due(skill.due)


def test_a_usual_mistake_brings_its_own_step_back(
    student: Visitor, unit: Unit, cast: Cast, now: datetime, tmp_path: Path
) -> None:
    other = changed(("id: ford-exit", "id: ford-rolling"), ("of: resistance.total", ROLLING))
    (tmp_path / "ford-rolling.yaml").write_text(other, "utf-8")
    loader = cast.instructor.actor
    preparing.load_scenarios(unit, loader, [tmp_path / "ford-rolling.yaml"], now)
    attempt_id = started(unit, cast, now)
    typed = slipped(unit, cast, attempt_id, "rolling-left-out")
    answer(unit, cast, now, attempt_id, **{**COMPETENT, "total": typed})
    answering.submit_attempt(unit, cast.student.actor, attempt_id, now)

    skills = {one.key: one for one in practising.my_practice(unit, cast.student.actor, now).skills}

    assert skills["resistance.rolling"].in_class == ("slip",)
    assert skills["resistance.total"].in_class == ("slip",)
    in_order = list(skills)
    assert in_order.index("resistance.rolling") < in_order.index("resistance.total")
    assert "How hard does the ground hold its wheels?" in student.open("/practice").html


@pytest.mark.parametrize(
    ("typed", "heading"),
    [({"answer": "no-go"}, "Not right: see why"), ({"answer": "go"}, "Right")],
)
def test_a_decision_that_was_wrong_in_class_is_practised(
    unit: Unit, cast: Cast, student: Visitor, typed: dict[str, str], heading: str
) -> None:
    handed_in(unit, cast, NOW, **{**COMPETENT, "go": "no-go"})
    found = practising.my_practice(unit, cast.student.actor, NOW)
    assert next(one.missed for one in found.skills if one.key == "decision") == 1.0
    student.open("/practice")
    page = student.send(action="/practice/next", skill="decision")
    assert page.send(**typed).heading == heading


def test_a_rig_in_practice_grows_by_a_row_and_is_drawn_with_its_loads(
    student: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now)
    student.open("/practice")
    page = student.send(action="/practice/next", skill="rig")
    assert page.heading == "How do you rig it?"
    assert "It ends at" not in page.html
    rows = page.html.count('name="pull-made_of-')
    page.send(add="pull-made_of")
    assert page.html.count('name="pull-made_of-') == rows + 1
    page.send(**SINGLE_LINE)
    assert page.heading == "Right"
    assert "It ends at loaded utility 4x4, rear with Bow 1." in page.html
    assert "kN" in page.html


def test_an_order_is_practised_by_its_places(
    student: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now)
    student.open("/practice")
    page = student.send(action="/practice/next", skill="order")
    assert page.heading == "In which order do you do it?"
    right = ["brief everyone", "walk the line", "take the slack"]
    shown = re.findall(r'<label for="place-\d">([^<]+)', page.html)
    assert sorted(shown) == sorted(right)
    numbers = {f"place-{i}": str(right.index(thing) + 1) for i, thing in enumerate(shown)}
    assert page.send(**numbers).heading == "Right"


def test_nothing_of_it_reaches_the_record(unit: Unit, cast: Cast, now: datetime) -> None:
    handed_in(unit, cast, now)

    def rows() -> list[int]:
        with unit.read() as session:
            of = (tables.Attempt, tables.Answer, tables.AttemptResult, tables.TaskMark)
            return [session.scalar(select(func.count()).select_from(one)) or 0 for one in of]

    before = rows()
    question = practising.ask(unit, cast.student.actor, now)
    practising.answer_question(unit, cast.student.actor, question, "1 N", now)
    assert rows() == before


def test_a_question_is_its_own_student_s(unit: Unit, cast: Cast, now: datetime) -> None:
    handed_in(unit, cast, now)
    question = practising.ask(unit, cast.student.actor, now)
    with pytest.raises(RoleNeeded):
        practising.question_view(unit, cast.instructor.actor, question, now)
    with pytest.raises(NotFound):
        practising.answer_question(unit, cast.student.actor, question + 1, "1 N", now)


def test_an_answer_sent_twice_counts_once(unit: Unit, cast: Cast, now: datetime) -> None:
    handed_in(unit, cast, now)
    actor = cast.student.actor
    question = practising.ask(unit, actor, now, "resistance.total")
    for _ in range(2):
        practising.answer_question(unit, actor, question, "1 N", now)
    found = practising.my_practice(unit, actor, now)
    assert next(s.tries for s in found.skills if s.key == "resistance.total") == 1
