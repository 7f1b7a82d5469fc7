"""Joining a class by its code, and coming back to it."""

from collections.abc import Callable
from datetime import datetime

import pytest
from flask import Flask

from coursekit.services import answering, teaching
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.web.visitor import Visitor


def test_the_first_page_says_what_the_app_is_not_and_offers_the_join_form(visitor: Visitor) -> None:
    visitor.open("/")

    assert "It clears no real pull." in visitor.html
    assert "qualified people decide" in visitor.html
    assert [form.action for form in visitor.forms] == ["/join"]


@pytest.mark.parametrize("disguise", [str, str.lower, lambda code: f" {code[:4]} {code[4:]} "])
def test_a_code_is_forgiven_its_case_and_spaces(
    visitor: Visitor, cast: Cast, disguise: Callable[[str], str]
) -> None:
    visitor.open("/").send(code=disguise(cast.join_code), name="Bo Reed")

    assert visitor.path == "/my-class/card"
    assert visitor.heading == "You are in: Saturday group"


def test_o_is_read_as_zero_in_a_code(visitor: Visitor, cast: Cast) -> None:
    visitor.open("/join").send(code=cast.join_code.replace("0", "o"), name="Bo Reed")

    assert visitor.path == "/my-class/card"


def test_the_class_card_shows_the_return_code_on_this_device(visitor: Visitor, cast: Cast) -> None:
    visitor.open("/join").send(code=cast.join_code, name="Bo Reed")
    first = visitor.html

    assert 'class="code"' in first
    assert visitor.open("/my-class/card").html == first


def test_the_return_code_lets_the_same_student_in_on_another_device(
    app: Flask, unit: Unit, cast: Cast, student: Visitor, visitor: Visitor
) -> None:
    visitor.open("/return").send(
        **{
            "sign-in-code": cast.join_code.lower(),
            "sign-in-name": "ana  lim",
            "sign-in-return_code": f"{cast.return_code[:3]} {cast.return_code[3:]}".lower(),
        }
    )

    assert visitor.path == "/my-class"
    assert len(answering.my_class(unit, cast.student.actor).scenarios) == 1
    assert student.open("/my-class").html == visitor.html or "Saturday group" in visitor.html


def test_wrong_and_ended_codes_get_one_and_the_same_answer(
    unit: Unit, visitor: Visitor, cast: Cast, now: datetime
) -> None:
    wrong = visitor.open("/join").send(code="ZZZZ9999", name="Bo Reed").notices
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    ended = visitor.open("/join").send(code=cast.join_code, name="Bo Reed").notices

    assert wrong == ended != []


def test_a_wrong_code_keeps_what_was_typed(visitor: Visitor) -> None:
    visitor.open("/join").send(code="ZZZZ 9999", name="Bo Reed")

    assert visitor.status == 422
    assert visitor.value("code") == "ZZZZ 9999"
    assert visitor.value("name") == "Bo Reed"


def test_a_taken_name_is_told_beside_the_name(visitor: Visitor, cast: Cast) -> None:
    visitor.open("/join").send(code=cast.join_code, name="ANA LIM")

    assert len(visitor.errors) == 1
    assert "come back with your return code" in visitor.errors[0]


def test_a_wrong_return_code_does_not_say_whether_the_name_is_known(
    visitor: Visitor, cast: Cast
) -> None:
    def tried(name: str) -> list[str]:
        visitor.open("/return").send(
            **{
                "sign-in-code": cast.join_code,
                "sign-in-name": name,
                "sign-in-return_code": "ZZZZZZ",
            }
        )
        return visitor.notices

    assert tried("Ana Lim") == tried("Nobody Here") != []


def test_the_address_of_the_qr_code_names_the_class_and_fills_the_code(
    visitor: Visitor, cast: Cast
) -> None:
    visitor.open(f"/J/{cast.join_code}")

    assert visitor.heading == "Join Saturday group"
    assert visitor.value("code") == cast.join_code


def test_guessing_codes_from_one_address_is_slowed_down(visitor: Visitor) -> None:
    for guess in range(60):
        visitor.open("/join").send(code=f"ZZZZ{guess:04}", name="Bo Reed")
        if visitor.status == 429:
            break

    assert visitor.status == 429
    assert "There were too many tries" in visitor.notices[0]
    assert visitor.value("name") == "Bo Reed"
