"""An instructor and a student take a class through, on a phone and on a laptop."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.acts import Staff, Student
from tests.browser.conftest import LAPTOP, PHONE, Device, Meet
from tests.server import School

pytestmark = pytest.mark.browser

# Looks at gear, reckons, builds a rig and puts steps in order; the other has
# choices and items, and is answered with whatever comes first.
FULL, OTHER = "Slid back below the meadow gate", "culvert"
ORDER = [
    "Brief everyone",
    "Send people out",
    "Take the line up",
    "Stop, and walk the line",
    "Pull slowly",
]


def answer_meadow_gate(student: Student) -> None:
    look_at_the_gear_and_reckon(student)
    build_the_rig(student)
    reckon_on_the_own_rig_and_order(student)


def look_at_the_gear_and_reckon(student: Student) -> None:
    student.at_task(1)
    student.choose("Bow 2", "Soft 1", "Sling 1")
    student.visitor.look("task-items")
    student.save()
    student.at_task(2)
    student.type_number("2.6 kN")
    student.visitor.look("task-quantity")
    student.save()
    student.at_task(3)
    student.type_number("6.2 kN")
    student.save()


def build_the_rig(student: Student) -> None:
    student.at_task(4)
    student.visitor.look("task-rig")
    student.rig_one_line(
        "winch wagon, winch",
        "Winch line (winch line)",
        "farm utility, tail loop",
        "Soft 2 (soft shackle)",
    )
    student.visitor.look("task-rig-built")
    student.save()


def reckon_on_the_own_rig_and_order(student: Student) -> None:
    student.at_task(5)
    student.type_number("44 kN")
    student.save()
    student.at_task(6)
    student.type_number("14 %")
    student.save()
    student.at_task(7)
    student.order(ORDER)
    student.visitor.look("task-order")
    student.save()


def answer_the_other(student: Student) -> None:
    student.begin(OTHER)
    while not student.page.url.endswith("/hand-in"):
        student.visitor.look("task")
        student.answer_anything()
    student.hand_in()


@pytest.mark.parametrize("device", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_a_class_is_made_answered_marked_pulled_and_closed(
    meet: Meet, school: School, device: Device
) -> None:
    size = "phone" if device is PHONE else "laptop"
    instructor = Staff(meet(f"{size}-instructor", device))
    instructor.sign_in(school.sign_in_name, school.password)
    code = instructor.make_class(f"Walk on a {size}", [FULL, OTHER])

    student = Student(meet(f"{size}-student", device))
    student.join(code, f"Wren {size}")
    student.begin(FULL)
    answer_meadow_gate(student)
    student.hand_in()
    expect(student.page.get_by_text("The rig holds and does the job.")).to_be_visible()
    student.page.get_by_role("link", name="To my class").click()
    answer_the_other(student)

    instructor.page.reload()
    expect(instructor.page.get_by_text(f"Wren {size}").first).to_be_visible()
    expect(instructor.page.locator(".progress").first).to_contain_text(re.compile(r"\d+ of 19"))
    instructor.visitor.look("class-now")
    instructor.log_first_pull("came free")
    instructor.page.get_by_role("link", name="Back to the class").click()
    instructor.close_class()
    student.visitor.open("/my-class")
    expect(student.page.get_by_text("The class is closed")).to_be_visible()
    instructor.issue_records("North yard")
    student.visitor.open("/my-records")
    student.visitor.look("my-records")


def test_a_pull_wears_the_kit_until_the_storekeeper_retires_an_item(
    meet: Meet, school: School
) -> None:
    keeper = Staff(meet("storekeeper", PHONE))
    keeper.sign_in(school.sign_in_name, school.password)
    keeper.make_class("Pulls only", [FULL])
    keeper.log_first_pull("jerked")
    rows = keeper.page.get_by_role("row").filter(has_text=re.compile("winch line|shackle"))
    expect(rows.filter(has_text="quarantine").first).to_be_visible()

    keeper.page.get_by_role("row").filter(has_text="winch line").get_by_role("link").click()
    keeper.visitor.look("item")
    expect(keeper.page.locator("main")).to_contain_text("jerked")
    keeper.retire("stood a jerk")
    keeper.visitor.look("item-retired")

    keeper.visitor.open("/kit/retired")
    keeper.visitor.look("retired")
    expect(keeper.page.get_by_role("row").filter(has_text="winch line").first).to_be_visible()


def test_the_storekeeper_holds_back_an_item_that_may_go_out(meet: Meet, school: School) -> None:
    keeper = Staff(meet("doubter", LAPTOP))
    keeper.sign_in(school.sign_in_name, school.password)
    keeper.visitor.open("/kit")
    keeper.visitor.look("kit")
    ready = keeper.page.get_by_role("region", name=re.compile("^May go out"))
    ready.get_by_role("link").first.click()
    keeper.quarantine("a stitch looks worn")
    keeper.visitor.look("quarantined")
