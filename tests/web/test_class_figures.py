"""How the tasks worked: the hardest one in the title, shares, and what a small group withholds."""

from datetime import datetime

import pytest

from coursekit.services import answering
from coursekit.services.answering import Join, TypedAnswer
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import SEED, handed_in
from tests.web.test_class_now import total
from tests.web.visitor import Visitor


@pytest.fixture
def figures_page(cast: Cast) -> str:
    return f"/classes/{cast.class_id}/figures"


def hands_in(unit: Unit, cast: Cast, now: datetime, name: str, typed: str) -> None:
    student = answering.join_class(unit, Join(cast.join_code, name), now).person.actor
    attempt_id = answering.start_attempt(unit, student, cast.class_scenario_id, now, seed=SEED)
    if typed:
        one = TypedAnswer(attempt_id, "total", typed, f"total-of-{attempt_id}")
        answering.save_answer(unit, student, one, now)
    answering.submit_attempt(unit, student, attempt_id, now)


def test_before_anything_is_handed_in_there_are_no_figures(
    instructor: Visitor, figures_page: str
) -> None:
    page = instructor.open(figures_page)
    assert page.heading == "Nothing is handed in yet: there are no figures"


def test_the_title_names_the_hardest_task_and_each_has_its_share(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, figures_page: str
) -> None:
    right = f"{total(unit, cast, now):.2f} kN"
    handed_in(unit, cast, now)
    for number in range(4):
        hands_in(unit, cast, now, f"Student {number}", right if number < 3 else "")

    page = instructor.open(figures_page)

    assert page.heading.startswith("Hardest was ")
    assert "1. The total" in page.html
    assert "of 5, so " in page.html
    assert "held back below 30 papers, by convention; there are 5 so far" in page.html
    assert "can be told apart" not in page.html


def test_of_a_small_class_it_says_which_task_to_teach_again(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, figures_page: str
) -> None:
    right = f"{total(unit, cast, now):.2f} kN"
    for number in range(5):
        hands_in(unit, cast, now, f"Student {number}", right)

    page = instructor.open(figures_page)

    assert "Hardly anybody has it: teach it again, or check its key." in page.html
    assert "Nearly everybody masters it" in page.html
    assert "hardly tells strong papers" not in page.html


def test_of_a_handful_of_papers_it_warns_to_pass_nothing_on(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, figures_page: str
) -> None:
    handed_in(unit, cast, now)
    page = instructor.open(figures_page)
    assert "So few papers can be told apart one by one" in page.html
    assert "Hardly anybody has it" in page.html
    assert "Nearly everybody masters it" not in page.html


def test_thirty_papers_show_how_well_tasks_tell_them_apart(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, figures_page: str
) -> None:
    right = f"{total(unit, cast, now):.2f} kN"
    for number in range(30):
        hands_in(unit, cast, now, f"Student {number}", right if number % 2 else "1 N")

    page = instructor.open(figures_page)

    # Half of them have the one task that was answered at all: it parts them wholly.
    assert "1.00" in page.html
    assert "does not vary" in page.html
    assert "held back" not in page.html
    # Wilson, 15 of 30: the interval is that of scipy in tests/reference.
    assert "15 of 30, so 33 to 67 %" in page.html
