"""What a student typed survives no signal, a reload and the end of a sign-in."""

from __future__ import annotations

import pytest
from playwright.sync_api import Route, expect

from tests.browser.acts import Staff, Student
from tests.browser.conftest import LAPTOP, PHONE, Meet
from tests.server import School

pytestmark = pytest.mark.browser

SCENARIO = "Slid back below the meadow gate"


@pytest.fixture
def student(meet: Meet, school: School) -> Student:
    """A student at the first task of a class of their own."""
    instructor = Staff(meet("signal-instructor", LAPTOP))
    instructor.sign_in(school.sign_in_name, school.password)
    code = instructor.make_class("No signal", [SCENARIO])
    student = Student(meet("signal-student", PHONE))
    student.join(code, "Idony")
    student.begin(SCENARIO)
    student.at_task(1)
    return student


def test_answers_given_without_signal_are_sent_once_it_is_back(student: Student) -> None:
    # The other tasks are held on the device as soon as the first is open.
    student.page.wait_for_load_state("networkidle")
    student.page.context.set_offline(offline=True)
    student.choose("Bow 2")
    student.save()
    student.at_task(2)
    expect(student.sent).to_contain_text("1 waiting for signal")
    student.type_number("2.5 kN")
    student.visitor.look("no-signal")
    student.save()
    student.at_task(3)
    expect(student.sent).to_contain_text("2 waiting for signal")

    student.page.context.set_offline(offline=False)
    expect(student.sent).to_contain_text("2 sent", timeout=20_000)
    student.page.locator(".steps a").nth(1).click()
    expect(student.form.get_by_role("textbox")).to_have_value("2.5 kN")


def test_a_draft_is_there_after_a_reload(student: Student) -> None:
    student.page.locator(".steps a").nth(1).click()
    student.at_task(2)
    student.page.wait_for_load_state()
    student.type_number("1,75 kN")
    student.page.reload()

    expect(student.form.get_by_role("textbox")).to_have_value("1,75 kN")


def test_what_is_typed_before_the_script_has_come_is_a_draft_too(student: Student) -> None:
    page = student.page
    page.locator(".steps a").nth(1).click()
    student.at_task(2)
    page.wait_for_load_state()
    student.type_number("1.6 kN")
    late: list[Route] = []
    page.route("**/js/answer.js", lambda route: late.append(route))  # noqa: PLW0108
    page.reload(wait_until="commit")
    student.type_number("1.75 kN")
    late.pop().continue_()
    page.wait_for_load_state()
    expect(student.form.get_by_role("textbox")).to_have_value("1.75 kN")
    page.unroute_all()
    page.reload()

    expect(student.form.get_by_role("textbox")).to_have_value("1.75 kN")


def test_an_answer_comes_back_when_the_sign_in_ended_in_its_middle(student: Student) -> None:
    student.visitor.open("/my-class/card")
    return_code = student.page.locator("#return-code").inner_text()
    student.page.go_back()
    student.page.locator(".steps a").nth(1).click()
    student.at_task(2)
    student.type_number("1.9 kN")
    student.page.context.clear_cookies()
    student.page.get_by_role("button", name="Save and go on").click()

    expect(student.page.get_by_role("heading", level=1)).to_contain_text("You are signed out")
    expect(student.page.get_by_text("What you typed is kept.")).to_be_visible()
    student.visitor.look("signed-out")
    student.page.get_by_label("Your name, as you joined").fill("Idony")
    student.page.get_by_label("Return code from your class card").fill(return_code)
    student.page.get_by_role("button", name="Come back").click()

    expect(student.form.get_by_role("textbox")).to_have_value("1.9 kN")
