"""The store is searched while it is typed, and by links and its button without a script."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.acts import Staff
from tests.browser.conftest import PHONE, Meet
from tests.server import School

pytestmark = pytest.mark.browser


@pytest.fixture
def keeper(meet: Meet, school: School) -> Staff:
    staff = Staff(meet("find-keeper", PHONE))
    staff.sign_in(school.sign_in_name, school.password)
    staff.visitor.open("/kit")
    return staff


def marks(page: Page) -> list[str]:
    return page.locator(".shelf-name b").all_inner_texts()


def test_the_list_follows_what_is_typed_and_tells_how_many_it_found(keeper: Staff) -> None:
    page = keeper.page
    page.get_by_text("One kind only").click()
    page.get_by_role("searchbox").press_sequentially("winch", delay=30)

    expect(page.get_by_role("status")).to_have_text(re.compile(r"^\d+ items? found$"))
    expect(page.locator(".shelf-name b").first).to_have_text(re.compile("Line|Winch"))
    expect(page).to_have_url(re.compile(r"/kit\?words=winch$"))
    expect(page.get_by_role("searchbox")).to_be_focused()
    # What was opened to narrow the list stays open.
    expect(page.locator("#only-kinds")).to_have_attribute("open", "")
    keeper.visitor.look("found")
    found = marks(page)
    page.reload()
    assert marks(page) == found


def test_an_answer_that_comes_late_never_replaces_a_newer_one(keeper: Staff) -> None:
    page = keeper.page
    late: list[Route] = []
    page.route(re.compile(r"/kit/found\?words=rope$"), lambda route: late.append(route))  # noqa: PLW0108
    with page.expect_request(re.compile(r"words=rope$")):
        page.get_by_role("searchbox").fill("rope")
    page.get_by_role("searchbox").fill("hook")
    expect(page.locator(".shelf-name b").first).to_have_text(re.compile("Hook"))
    assert len(late) == 1
    late[0].fulfill(body="<div data-said='late'>late</div>")

    page.wait_for_timeout(300)
    assert all("Hook" in mark for mark in marks(page))


def test_a_list_that_can_not_be_fetched_says_so_and_stays(keeper: Staff) -> None:
    page, before = keeper.page, marks(keeper.page)
    page.context.set_offline(offline=True)
    page.get_by_role("searchbox").fill("hook")

    expect(page.get_by_role("status")).to_have_text("The list could not be fetched. Press Find.")
    assert marks(page) == before
    page.context.set_offline(offline=False)
    page.get_by_role("button", name="Find").click()
    expect(page.locator(".shelf-name b").first).to_have_text(re.compile("Hook"))


def test_without_a_script_the_button_and_the_links_find_the_same(
    meet: Meet, school: School
) -> None:
    staff = Staff(meet("find-bare", PHONE, scripts=False))
    staff.sign_in(school.sign_in_name, school.password)
    staff.visitor.open("/kit")
    page = staff.page
    page.get_by_role("searchbox").fill("bow")
    page.get_by_role("button", name="Find").click()
    expect(page).to_have_url(re.compile(r"words=bow"))
    # The address is the new one before the whole page has come.
    page.wait_for_load_state()
    found = marks(page)
    assert found
    assert [mark for mark in found if "Bow" not in mark] == []
    page.get_by_role("link", name=re.compile("^may go out")).click()

    expect(page).to_have_url(re.compile(r"words=bow"))
    expect(page).to_have_url(re.compile(r"stands=ready"))
    staff.visitor.look("narrowed")
