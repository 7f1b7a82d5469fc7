"""A yard list by thumb: no level is lost or taken for saved, and none is left behind."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.acts import Staff, Student
from tests.browser.conftest import LAPTOP, PHONE, Meet
from tests.browser.visitor import Visitor
from tests.server import School

pytestmark = pytest.mark.browser

SCENARIO = "Bogged at the ford exit"
UNAIDED, NOT_SHOWN = "unaided", "not shown"
TWO_TAPS = """() => [0, 1].forEach((place) =>
  document.querySelectorAll(".criterion")[place].querySelectorAll("[name=level]")[2].click())"""


@dataclass
class YardList:
    """A student's list on an assessor's phone."""

    visitor: Visitor

    @property
    def page(self) -> Page:
        return self.visitor.page

    @property
    def criteria(self) -> list[Locator]:
        return self.page.locator(".criterion").all()

    @property
    def state(self) -> Locator:
        return self.page.locator("#yard-state")

    def tap(self, criterion: Locator, level: str) -> None:
        criterion.locator("label.choice").filter(has_text=level).click()

    def tap_all(self, level: str) -> None:
        for criterion in self.criteria:
            self.tap(criterion, level)

    def hand_in(self) -> None:
        self.page.get_by_role("button", name="Hand in my list").click()

    def is_handed_in(self, outcome: str) -> None:
        expect(self.page.get_by_role("heading", level=1)).to_contain_text("is handed in")
        expect(self.page.locator("main")).to_contain_text(outcome)


@pytest.fixture
def yard_list(meet: Meet, school: School) -> YardList:
    """The list of a student in a class of their own."""
    staff = Staff(meet("yard-instructor", LAPTOP))
    staff.sign_in(school.sign_in_name, school.password)
    code = staff.make_class("In the yard", [SCENARIO])
    Student(meet("yard-student", PHONE)).join(code, "Odo")
    assessor = Staff(meet("yard-assessor", PHONE))
    assessor.sign_in(school.sign_in_name, school.password)
    assessor.visitor.open(staff.page.url)
    assessor.page.get_by_role("link", name="Yard lists").click()
    assessor.page.get_by_role("link", name="Odo").click()
    expect(assessor.page.get_by_role("heading", level=1)).to_contain_text("Odo: ")
    # Until its script is there, each criterion has a button of its own.
    expect(assessor.page.get_by_role("button", name="Save")).to_have_count(0)
    return YardList(assessor.visitor)


def test_levels_tapped_without_signal_are_kept_and_hold_the_list_back(yard_list: YardList) -> None:
    many = len(yard_list.criteria)
    yard_list.page.context.set_offline(offline=True)
    yard_list.tap_all(UNAIDED)
    waiting = f"Kept on this phone until there is signal: {many}"
    expect(yard_list.state).to_have_text(waiting)
    yard_list.hand_in()
    expect(yard_list.page.locator("#yard-held")).to_have_text(f"Not handed in yet. {waiting}")
    yard_list.visitor.look("yard-no-signal")

    yard_list.page.context.set_offline(offline=False)
    expect(yard_list.state).to_have_text("Saved.", timeout=20_000)
    yard_list.hand_in()
    yard_list.is_handed_in("Competent")
    yard_list.visitor.look("yard-handed-in")


def test_a_level_corrected_just_before_handing_in_is_the_one_that_counts(
    yard_list: YardList,
) -> None:
    yard_list.tap_all(UNAIDED)
    expect(yard_list.state).to_have_text("Saved.")
    yard_list.page.context.set_offline(offline=True)
    yard_list.tap(yard_list.criteria[0], NOT_SHOWN)
    expect(yard_list.state).to_contain_text("Kept on this phone")
    yard_list.page.context.set_offline(offline=False)
    yard_list.hand_in()
    yard_list.is_handed_in("Unsafe")


def test_two_quick_taps_are_both_saved(yard_list: YardList) -> None:
    many = len(yard_list.criteria)
    yard_list.page.evaluate(TWO_TAPS)
    expect(yard_list.state).to_have_text("Saved.", timeout=3_000)
    yard_list.page.reload()
    expect(yard_list.page.get_by_role("heading", level=1)).to_contain_text(
        f"{many - 2} criteria to look at"
    )


def test_what_the_server_refuses_is_never_told_as_saved(yard_list: YardList) -> None:
    yard_list.tap_all(UNAIDED)
    expect(yard_list.state).to_have_text("Saved.")
    elsewhere = yard_list.page.context.new_page()
    elsewhere.goto(yard_list.page.url)
    elsewhere.get_by_role("button", name="Hand in my list").click()
    expect(elsewhere.get_by_role("heading", level=1)).to_contain_text("is handed in")

    first = yard_list.criteria[0]
    yard_list.tap(first, NOT_SHOWN)
    yard_list.tap(yard_list.criteria[1], NOT_SHOWN)
    told = "You have handed this list in. What you saw differently is agreed on."
    expect(yard_list.state).to_have_text(f"Not saved: 2. {told}")
    expect(first.locator(".error")).to_have_text(told)
    yard_list.visitor.look("yard-refused")
    yard_list.page.reload()
    expect(yard_list.state).to_contain_text("Not saved: 2.")
