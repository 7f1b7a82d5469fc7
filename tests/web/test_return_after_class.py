"""A student whose sign-in ran out comes back when the class is long closed."""

from datetime import timedelta

from freezegun.api import FrozenDateTimeFactory

from coursekit.services import teaching
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.classroom import handed_in
from tests.web.visitor import Visitor


def back_with_the_card(visitor: Visitor, cast: Cast, return_code: str = "") -> Visitor:
    typed = return_code or cast.return_code
    fields = {"sign-in-name": "Ana Lim", "sign-in-return_code": typed}
    return visitor.send(**fields)


def test_the_marks_are_read_a_month_after_the_class(
    unit: Unit, cast: Cast, student: Visitor, clock: FrozenDateTimeFactory
) -> None:
    attempt_id = handed_in(unit, cast, NOW)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, NOW)
    student.open(f"/attempts/{attempt_id}/marks")
    heading = student.heading
    clock.tick(timedelta(days=30))

    student.open(f"/attempts/{attempt_id}/marks")
    assert student.path == "/return"
    back_with_the_card(student, cast)

    assert student.path == f"/attempts/{attempt_id}/marks"
    assert student.heading == heading
    student.open("/my-class")
    assert "nothing can be sent any more" in student.html
    assert student.open("/practice").status == 200


def test_the_card_shows_one_code_that_outlives_the_class(visitor: Visitor, cast: Cast) -> None:
    visitor.open("/join").send(code=cast.join_code, name="Bo Reed")

    assert "after it is closed to read your marks and to practise" in visitor.html
    assert cast.join_code not in visitor.html
    shown = visitor.html.split('id="return-code">')[1].split("<")[0]
    assert [len(group) for group in shown.split()] == [4, 4, 4]
    visitor.open("/me").send(action="/me/sign-out")
    visitor.open("/return").send(**{"sign-in-name": "Bo Reed", "sign-in-return_code": shown})

    assert visitor.path == "/my-class"


def test_guessing_a_return_code_is_slowed_down_and_told(
    unit: Unit, cast: Cast, visitor: Visitor
) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, NOW)
    wrong = cast.return_code[:4] + "ZZZZZZZZ"
    visitor.open("/return")
    back_with_the_card(visitor, cast, wrong)
    assert visitor.notices == [
        "Name and return code don't go together. Read both from your class card and try again."
    ]
    for _ in range(6):
        back_with_the_card(visitor, cast, wrong)

    assert visitor.status == 429
    assert visitor.value("sign-in-return_code") == wrong
