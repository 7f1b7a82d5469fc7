"""Closing a class: asked once, then its code is dead."""

from datetime import datetime

from coursekit.services import teaching
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import handed_in
from tests.web.visitor import Visitor


def test_who_has_not_handed_in_is_named_first(instructor: Visitor, cast: Cast) -> None:
    instructor.open(f"/classes/{cast.class_id}/close")

    assert instructor.heading == "Close Saturday group?"
    assert instructor.notices == ["1 student has not handed in everything: Ana Lim."]


def test_nobody_is_named_where_all_have_handed_in(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now)

    assert instructor.open(f"/classes/{cast.class_id}/close").notices == []


def test_a_closed_class_lets_nobody_in_and_still_shows_what_was_handed_in(
    instructor: Visitor, visitor: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now)
    instructor.open(f"/classes/{cast.class_id}/close").send()

    assert teaching.classes(unit, cast.instructor.actor)[0].status == "closed"
    assert 'class="code"' not in instructor.html
    assert "Ana Lim" in instructor.html
    visitor.open("/join").send(code=cast.join_code, name="Bo Reed")
    assert visitor.path == "/join"


def test_looking_at_the_question_closes_nothing(
    instructor: Visitor, unit: Unit, cast: Cast
) -> None:
    instructor.open(f"/classes/{cast.class_id}/close")

    assert teaching.classes(unit, cast.instructor.actor)[0].status == "open"


def test_the_code_of_a_closed_class_has_no_qr(instructor: Visitor, cast: Cast) -> None:
    instructor.open(f"/classes/{cast.class_id}/close").send()

    assert instructor.open(f"/classes/{cast.class_id}/join.svg").status == 404
    assert instructor.open(f"/classes/{cast.class_id}/join").status == 404
