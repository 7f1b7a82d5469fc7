"""Answering with items, a choice, and an order."""

from coursekit.services import answering
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.web.visitor import Visitor

STEPS = ["brief everyone", "walk the line", "take the slack"]


def answers(unit: Unit, cast: Cast, visitor: Visitor) -> dict[str, object]:
    attempt_id = int(visitor.path.split("/")[2])
    return dict(answering.attempt_view(unit, cast.student.actor, attempt_id).answers)


def test_one_item_of_gear_points_and_anchors_is_chosen(
    unit: Unit, cast: Cast, student: Visitor, attempt: str
) -> None:
    student.open(f"{attempt}/tasks/weak")
    assert 'value="oak"' in student.html
    assert 'value="recovery_vehicle.front"' in student.html
    student.send(answer="sling-1")

    assert answers(unit, cast, student) == {"weak": "sling-1"}


def test_several_items_are_ticked(unit: Unit, cast: Cast, student: Visitor, attempt: str) -> None:
    student.open(f"{attempt}/tasks/bin").send(answer=["old-strap", "bow-1"])

    assert answers(unit, cast, student) == {"bin": ["old-strap", "bow-1"]}


def test_none_of_them_is_an_answer_of_its_own(
    unit: Unit, cast: Cast, student: Visitor, attempt: str
) -> None:
    path = f"{attempt}/tasks/bin"
    student.open(path).send(answer="-")

    assert answers(unit, cast, student) == {"bin": []}
    assert student.open(path).value("answer") == "-"


def test_none_beside_something_is_asked_about(student: Visitor, attempt: str) -> None:
    student.open(f"{attempt}/tasks/bin").send(answer=["-", "bow-1"])

    assert student.errors == ["▲ Tick either some of them, or none of them."]


def test_nothing_ticked_is_no_answer(student: Visitor, attempt: str) -> None:
    student.open(f"{attempt}/tasks/bin").send()

    assert student.status == 422
    assert student.errors == ["▲ Answer this, or go on without an answer."]


def test_a_choice_is_kept_by_its_key(
    unit: Unit, cast: Cast, student: Visitor, attempt: str
) -> None:
    student.open(f"{attempt}/tasks/go").send(answer="no-go")

    assert answers(unit, cast, student) == {"go": "no-go"}


def test_a_choice_that_is_not_offered_is_refused(student: Visitor, attempt: str) -> None:
    student.open(f"{attempt}/tasks/go").send(answer="maybe")

    assert student.status == 422


def test_an_order_is_given_by_numbers(
    unit: Unit, cast: Cast, student: Visitor, attempt: str
) -> None:
    student.open(f"{attempt}/tasks/steps")
    shown = _shown_steps(student)
    places = {f"place-{shown.index(step)}": str(n + 1) for n, step in enumerate(STEPS)}
    student.send(**places)

    assert answers(unit, cast, student) == {"steps": STEPS}
    student.open(f"{attempt}/tasks/steps")
    assert {name: student.value(name) for name in places} == places


def test_a_number_used_twice_is_asked_about_and_kept(student: Visitor, attempt: str) -> None:
    student.open(f"{attempt}/tasks/steps").send(**{"place-0": "1", "place-1": "1", "place-2": "2"})

    assert student.status == 422
    assert student.notices == ["Give each line its own number, 1 to 3."]
    assert student.value("place-2") == "2"


def test_the_right_order_is_never_the_one_that_is_shown(student: Visitor, attempt: str) -> None:
    student.open(f"{attempt}/tasks/steps")

    assert sorted(_shown_steps(student)) == sorted(STEPS)
    assert _shown_steps(student) != STEPS


def _shown_steps(student: Visitor) -> list[str]:
    return sorted(STEPS, key=student.html.index)
