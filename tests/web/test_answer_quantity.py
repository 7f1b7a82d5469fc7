"""Answering with a number and its unit."""

import pytest

from coursekit.services import answering
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.web.visitor import Visitor


@pytest.fixture
def total(student: Visitor, attempt: str) -> Visitor:
    """Ana before the task whose unit is fixed: kN."""
    return student.open(f"{attempt}/tasks/total")


@pytest.fixture
def rear(student: Visitor, attempt: str) -> Visitor:
    """Ana before the task whose unit is free."""
    return student.open(f"{attempt}/tasks/rear")


def saved(unit: Unit, cast: Cast, visitor: Visitor) -> dict[str, object]:
    attempt_id = int(visitor.path.split("/")[2])
    return dict(answering.attempt_view(unit, cast.student.actor, attempt_id).answers)


def test_the_title_of_the_page_is_its_question(total: Visitor) -> None:
    assert total.heading == "What is the total resistance?"
    assert total.title == "What is the total resistance? · coursekit"


def test_a_quantity_is_kept_as_typed_and_read_back(unit: Unit, cast: Cast, rear: Visitor) -> None:
    path = rear.path
    rear.send(answer="650 kg")

    assert rear.notices[0] == "Saved. Read as: 650 kg read as its weight: 6.37 kN"
    assert saved(unit, cast, rear) == {"rear": "650 kg"}
    assert rear.open(path).value("answer") == "650 kg"


def test_saving_leads_on_to_the_next_task(total: Visitor) -> None:
    total.send(answer="6.4 kN")

    assert total.path.endswith("/tasks/build")


@pytest.mark.parametrize(
    ("typed", "chosen", "message"),
    [
        ("6.4", "", '"6.4" has no unit. Write for example 6.4 kN.'),
        ("1.2 ton", "", "does not say which ton"),
        ("0.3", "ton", "does not say which ton"),
        ("lots", "kN", "is not a number and a unit"),
        ("6.4 m", "", "6.4 m is a length, a force is needed"),
        ("9e9 kN", "", "is too large to be meant"),
        ("nan kN", "", "is not a number and a unit"),
        ("inf", "kN", "is not a number and a unit"),
        ("", "kN", "Answer this, or go on without an answer"),
    ],
)
def test_what_can_not_be_read_is_told_beside_the_field_and_kept(
    unit: Unit, cast: Cast, rear: Visitor, typed: str, chosen: str, message: str
) -> None:
    rear.send(answer=typed, **{"answer-unit": chosen})

    assert rear.status == 422
    assert any(message in error for error in rear.errors), rear.errors
    assert rear.value("answer") == typed
    assert saved(unit, cast, rear) == {}


def test_the_unit_may_be_chosen_beside_the_number(unit: Unit, cast: Cast, rear: Visitor) -> None:
    rear.send(answer="6.4", **{"answer-unit": "kN"})

    assert saved(unit, cast, rear) == {"rear": "6.4 kN"}


def test_a_unit_in_the_text_goes_before_the_one_beside_it(
    unit: Unit, cast: Cast, rear: Visitor
) -> None:
    rear.send(answer="6400 N", **{"answer-unit": "kN"})

    assert saved(unit, cast, rear) == {"rear": "6400 N"}


def test_an_exam_may_fix_the_unit(unit: Unit, cast: Cast, total: Visitor) -> None:
    assert total.value("answer-unit") is None
    total.send(answer="6.4")

    assert saved(unit, cast, total) == {"total": "6.4 kN"}


def test_a_comma_between_thousands_is_read_where_the_school_writes_it_so(
    unit: Unit, cast: Cast, rear: Visitor
) -> None:
    rear.send(answer="6,400 N")

    assert rear.notices[0] == "Saved. Read as: 6,400 N"


def test_sent_twice_it_counts_once(unit: Unit, cast: Cast, rear: Visitor) -> None:
    form = dict(rear.forms[0].filled({"answer": "6.4 kN"}))
    first, second = (rear.client.post(rear.path, data=form).status_code for _ in range(2))

    assert first == second == 303
    assert saved(unit, cast, rear) == {"rear": "6.4 kN"}


def test_another_answer_under_an_old_key_is_asked_for_again_with_a_new_one(
    unit: Unit, cast: Cast, rear: Visitor
) -> None:
    form = dict(rear.forms[0].filled({"answer": "6.4 kN"}))
    rear.client.post(rear.path, data=form)
    rear.response = rear.client.post(rear.path, data=form | {"answer": "7 kN"})

    assert rear.status == 422
    assert rear.value("answer") == "7 kN"
    assert rear.value("key") != form["key"]
    rear.send(answer="7 kN")
    assert saved(unit, cast, rear) == {"rear": "7 kN"}


def test_a_script_is_told_what_was_understood(rear: Visitor) -> None:
    form = dict(rear.forms[0].filled({"answer": "650 kg"}))
    answer = rear.client.post(rear.path, data=form, headers={"Accept": "application/json"})

    assert answer.json == {
        "said": "Saved. Read as: 650 kg read as its weight: 6.37 kN",
        "answered": 1,
    }


def test_a_script_is_told_what_is_to_be_mended(rear: Visitor) -> None:
    form = dict(rear.forms[0].filled({"answer": "6.4"}))
    answer = rear.client.post(rear.path, data=form, headers={"Accept": "application/json"})

    assert answer.status_code == 422
    assert answer.json == {"error": '"6.4" has no unit. Write for example 6.4 kN.'}


def test_a_task_that_is_not_there_has_no_page(student: Visitor, attempt: str) -> None:
    assert student.open(f"{attempt}/tasks/nothing").status == 404
