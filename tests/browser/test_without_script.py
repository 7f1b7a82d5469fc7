"""Everything can be done with scripts switched off."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.acts import Staff, Student
from tests.browser.conftest import LAPTOP, PHONE, Meet
from tests.browser.test_a_whole_class import FULL, answer_meadow_gate
from tests.server import School

pytestmark = pytest.mark.browser


def test_a_class_is_answered_marked_and_pulled_without_script(meet: Meet, school: School) -> None:
    instructor = Staff(meet("plain-instructor", LAPTOP, scripts=False))
    instructor.sign_in(school.sign_in_name, school.password)
    code = instructor.make_class("Without script", [FULL])

    student = Student(meet("plain-student", PHONE, scripts=False))
    student.join(code, "Corin")
    student.begin(FULL)
    answer_meadow_gate(student)
    student.hand_in()
    expect(student.page.get_by_text("The rig holds and does the job.")).to_be_visible()

    instructor.page.reload()
    expect(instructor.page.get_by_text("Corin").first).to_be_visible()
    instructor.log_first_pull("came free")


def test_a_longer_rig_can_be_built_without_script(meet: Meet, school: School) -> None:
    instructor = Staff(meet("plain-rigger-instructor", LAPTOP, scripts=False))
    instructor.sign_in(school.sign_in_name, school.password)
    code = instructor.make_class("A pulley more", [FULL])
    student = Student(meet("plain-rigger", PHONE, scripts=False))
    student.join(code, "Maud")
    student.begin(FULL)
    student.page.locator(".steps a").nth(3).click()
    student.at_task(4)
    pull = student.form.get_by_role("group", name="The line that pulls")
    pull.get_by_label("The line starts at").select_option(label="winch wagon, winch")

    pull.get_by_role("button", name="Add a pulley").click()
    expect(pull.get_by_role("group", name="Pulley 1")).to_be_visible()
    expect(pull.get_by_label("The line starts at")).to_have_value("recovery_vehicle.winch")
    student.visitor.look("pulley-added")
