"""A storekeeper's whole day on a phone of 360 px, from the morning's count to the paper.

Every page on the way is held to what all pages must meet, and leaves a picture.
"""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.acts import Staff
from tests.browser.conftest import PHONE, Meet
from tests.server import School

pytestmark = pytest.mark.browser


@pytest.fixture
def keeper(meet: Meet, school: School) -> Staff:
    """Somebody who keeps the store, signed in on a phone."""
    staff = Staff(meet("day", PHONE))
    staff.sign_in(school.sign_in_name, school.password)
    staff.visitor.open("/kit")
    return staff


def test_the_morning_what_may_go_out_and_what_is_due(keeper: Staff) -> None:
    page = keeper.page
    expect(page.get_by_role("heading", level=1)).to_contain_text(re.compile("out today"))
    keeper.visitor.look("store")
    page.get_by_role("searchbox").fill("rope 2")
    page.get_by_role("searchbox").press("Enter")
    expect(page.locator("main")).to_contain_text("Rope 2")
    keeper.visitor.look("found")
    keeper.visitor.open("/kit/ahead")
    keeper.visitor.look("ahead")
    keeper.visitor.open("/kit/calendar")
    keeper.visitor.look("calendar")


def test_the_class_takes_its_kit_and_brings_it_back_with_mud_on_it(keeper: Staff) -> None:
    page = keeper.page
    page.get_by_role("link", name=re.compile("^Kit for")).first.click()
    keeper.visitor.look("kit-list")
    page.get_by_role("link", name="Plan the pulls").click()
    keeper.visitor.look("plan")
    page.get_by_role("button", name="Plan it so").click()
    for box in checks(page):
        box.check()
    page.get_by_role("button", name="Issue what is chosen").click()
    out = page.get_by_role("region", name=re.compile("^Out with this class"))
    expect(out).to_be_visible()
    keeper.visitor.look("issued")

    out.get_by_role("link", name="Take it back").click()
    page.get_by_label("All that is not told apart below").select_option(label="back, muddy")
    keeper.visitor.look("coming-back")
    page.get_by_role("button", name="Take it back").click()
    expect(page.get_by_text("Taken back.")).to_be_visible()
    keeper.visitor.look("back")


def test_an_examination_is_done_line_by_line(keeper: Staff) -> None:
    page = keeper.page
    page.get_by_role("region", name=re.compile("^May go out")).get_by_role("link").first.click()
    keeper.visitor.look("item")
    page.get_by_role("link", name="Inspect", exact=True).click()
    keeper.visitor.look("list")
    page.get_by_role("button", name="Record the examination").click()
    keeper.visitor.look("list-not-whole")
    for line in page.locator("ol.looks > li").all():
        line.get_by_text("fine", exact=True).click()
    page.get_by_role("button", name="Record the examination").click()
    expect(page.get_by_text("Recorded.")).to_be_visible()
    keeper.visitor.look("examined")


def test_an_item_is_registered_labelled_and_printed(keeper: Staff) -> None:
    page = keeper.page
    page.get_by_role("link", name="Register an item").click()
    keeper.visitor.look("register")
    page.get_by_label("The school's own mark").fill("Bow 99")
    page.get_by_label(re.compile("^Serial")).fill("FH-999")
    page.get_by_label("Date of make").fill("2026-05-01")
    page.locator("main form button").last.click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Bow 99")
    keeper.visitor.look("registered")
    page.get_by_role("link", name="Label", exact=True).click()
    keeper.visitor.look("labels")


@pytest.mark.parametrize("path", ["/kit/register.pdf", "/kit/items/1.pdf", "/kit/register.xlsx"])
def test_papers_and_tables_are_given_out(keeper: Staff, path: str) -> None:
    answer = keeper.page.request.get(keeper.visitor.address + path)
    assert answer.ok
    assert len(answer.body()) > 1000


def checks(page: Page) -> list[Locator]:
    """Return the short list of checks before anything goes out."""
    return (
        page.get_by_role("group", name="Look at each before it goes").get_by_role("checkbox").all()
    )
