"""An instructor changes a scenario: it is solved as they type, and nothing typed is lost."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.acts import Staff
from tests.browser.conftest import LAPTOP, PHONE, Device, Meet
from tests.server import School

pytestmark = pytest.mark.browser

TITLE = "Down the hill road without brakes"
OPEN_ALL = (
    "() => document.querySelectorAll('details.part-of-draft').forEach((d) => (d.open = true))"
)
FOCUSED = "() => [document.activeElement.name, document.activeElement.selectionStart]"


def begin(staff: Staff, school: School, title: str = TITLE) -> None:
    """Open the draft of a scenario."""
    staff.sign_in(school.sign_in_name, school.password)
    staff.visitor.open("/scenarios")
    staff.page.get_by_role("link", name=title).click()
    staff.page.get_by_role("button", name="Change it").click()
    expect(staff.page.get_by_role("button", name="Save as a new version")).to_be_visible()


@pytest.mark.parametrize("device", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_it_is_solved_as_somebody_types(meet: Meet, school: School, device: Device) -> None:
    width = device["viewport"]["width"]
    staff = Staff(meet(f"editor-{width}", device))
    begin(staff, school)
    page, look = staff.page, staff.visitor.look
    page.evaluate(OPEN_ALL)
    look("form")

    mass = page.get_by_label(re.compile("^Mass as it stands")).first
    mass.fill("5400 lbf")
    expect(page.get_by_role("status")).to_have_text("1 thing to mend")
    expect(mass).to_have_attribute("aria-invalid", "true")
    assert page.evaluate(FOCUSED) == ["/stuck_vehicle/mass", len("5400 lbf")]
    look("mistake")

    mass.fill(f"{5500 + width % 7} lb")
    expect(page.get_by_role("status")).to_contain_text("named rigs are safe and do the job")
    expect(page.locator("#result svg.plan-svg")).to_contain_text(f"{5500 + width % 7} lb")
    expect(page.locator("#result")).to_contain_text("safe and do the job")
    assert page.evaluate(FOCUSED)[0] == "/stuck_vehicle/mass"

    page.reload()
    keep_and_save(staff, f"{5500 + width % 7} lb")


def keep_and_save(staff: Staff, mass: str) -> None:
    """See that what was typed is still there, look at it as text, and make it a version."""
    page, look = staff.page, staff.visitor.look
    expect(page.get_by_label(re.compile("^Mass as it stands")).first).to_have_value(mass)
    page.get_by_role("link", name="change it as text").click()
    look("text")
    page.get_by_role("link", name="change it as a form").click()
    page.get_by_role("button", name="Save as a new version").click()
    expect(page.get_by_text("Saved as version")).to_be_visible()
    staff.visitor.open("/scenarios/new")
    look("new")


def test_a_found_rig_becomes_the_rig_given_without_script(meet: Meet, school: School) -> None:
    staff = Staff(meet("editor-plain", PHONE, scripts=False))
    begin(staff, school, "Bogged at the ford exit")
    page = staff.page

    page.get_by_role("button", name="Take it as the rig given").first.click()
    expect(page.get_by_role("heading", name=re.compile("^before"))).to_be_visible()
    staff.visitor.look("rig-taken")
    page.get_by_role("link", name="Discard the draft").click()
    staff.visitor.look("discard")
    page.get_by_role("button", name="Discard it").click()
    expect(page.get_by_text("The draft is gone.")).to_be_visible()
