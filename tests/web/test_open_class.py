"""Choosing what a class works on, and opening it to students."""

import re
from datetime import date

import pytest
from flask import Flask

from coursekit.services import teaching
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store.unit import Unit
from coursekit.web.identity import SIGN_IN
from tests.cast import NOW, Cast
from tests.web.visitor import Visitor


@pytest.fixture
def draft(unit: Unit, cast: Cast) -> int:
    new = NewClass(cast.course_id, "Sunday group", date(2026, 6, 14))
    return teaching.create_class(unit, cast.instructor.actor, new, NOW)


def choose(instructor: Visitor, draft: int, then: str, *version_ids: int) -> Visitor:
    ids = [str(version_id) for version_id in version_ids]
    return instructor.open(f"/classes/{draft}").send(version_ids=ids, then=then)


def test_a_class_is_opened_and_its_code_stands_large_in_two_groups_of_four(
    instructor: Visitor, draft: int, unit: Unit, cast: Cast
) -> None:
    choose(instructor, draft, "open", cast.version_id)
    opened = teaching.classes(unit, cast.instructor.actor)[0]

    assert instructor.heading == "Nobody is in yet: show the code"
    assert opened.status == "open"
    assert opened.join_code is not None
    shown = re.search(r'<p class="code" aria-label="([^"]+)">([^<]+)</p>', instructor.html)
    assert shown is not None
    assert shown[2] == f"{opened.join_code[:4]} {opened.join_code[4:]}"
    # Read out letter by letter, not as a word.
    assert shown[1].split() == list(opened.join_code)


def test_a_choice_can_be_kept_without_opening(
    instructor: Visitor, draft: int, unit: Unit, cast: Cast
) -> None:
    choose(instructor, draft, "keep", cast.version_id)

    assert teaching.classes(unit, cast.instructor.actor)[0].status == "draft"
    assert "Students can&#39;t come in yet." in instructor.html
    assert instructor.open(f"/classes/{draft}").value("version_ids") == str(cast.version_id)


def test_a_class_without_scenarios_does_not_open_and_says_so(
    instructor: Visitor, draft: int, unit: Unit, cast: Cast
) -> None:
    choose(instructor, draft, "open")

    assert instructor.status == 422
    assert instructor.notices == ["The class has no scenario. Choose at least one."]
    assert teaching.classes(unit, cast.instructor.actor)[0].status == "draft"


def test_a_choice_made_from_an_older_page_is_shown_again_and_can_then_be_made(
    instructor: Visitor, draft: int, unit: Unit, cast: Cast
) -> None:
    instructor.open(f"/classes/{draft}")
    choice = ScenarioChoice(draft, (cast.version_id,), seen=1)
    teaching.choose_scenarios(unit, cast.instructor.actor, choice)
    instructor.send(version_ids=[str(cast.version_id)], then="open")

    assert instructor.status == 422
    assert instructor.notices[0].startswith("The class has changed since this form was opened.")
    assert instructor.value("version_ids") == str(cast.version_id)
    instructor.send(then="open")
    assert instructor.heading == "Nobody is in yet: show the code"


def test_the_qr_is_a_file_of_paths_without_style(instructor: Visitor, cast: Cast) -> None:
    svg = instructor.open(f"/classes/{cast.class_id}/join.svg")

    assert svg.response.mimetype == "image/svg+xml"
    assert "<path" in svg.html
    assert "style=" not in svg.html
    # Version 3 of ISO/IEC 18004 has 29 modules a side, and 4 stay white on each (from memory).
    assert 'viewBox="0 0 37 37"' in svg.html


def test_the_address_of_the_qr_lets_a_student_in(
    instructor: Visitor, visitor: Visitor, cast: Cast
) -> None:
    instructor.open(f"/classes/{cast.class_id}")
    address = re.search(r'class="address">https?://[^/]+(/[^<]+)<', instructor.html)
    assert address is not None

    assert visitor.open(address[1]).value("code") == cast.join_code


def test_the_code_fills_the_big_screen(instructor: Visitor, cast: Cast) -> None:
    instructor.open(f"/classes/{cast.class_id}/join")

    assert f"{cast.join_code[:4]} {cast.join_code[4:]}" in instructor.heading
    assert f"/classes/{cast.class_id}/join.svg" in instructor.html


def test_an_address_that_no_phone_can_reach_is_told(instructor: Visitor, cast: Cast) -> None:
    instructor.open(f"/classes/{cast.class_id}")

    assert f"http://localhost/J/{cast.join_code}" in instructor.html
    assert "reach this address" in instructor.html


def test_an_address_in_the_network_stands_as_it_is(app: Flask, cast: Cast) -> None:
    host = "http://192.0.2.7:8000"
    client = app.test_client()
    with client.session_transaction(base_url=host) as session:
        session[SIGN_IN] = cast.instructor.token
    page = client.get(f"/classes/{cast.class_id}", base_url=host).text

    assert f"{host}/J/{cast.join_code}" in page
    assert "reach this address" not in page
