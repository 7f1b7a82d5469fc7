"""What befalls kit on a storekeeper's day beside the class: held, let out, retired, recalled.

As on the other pages of the day, each is held to what all pages must meet, on a phone.
"""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import FilePayload, expect

from tests.browser.acts import Staff
from tests.browser.conftest import PHONE, Meet
from tests.server import School
from tests.shell.files.pictures import picture

pytestmark = pytest.mark.browser

TABLE = "mark,type,kind,wll,made\nSling 71,Round sling 2 t,roundsling,2 t,2026-05-01\n"
SECOND = "tamsin"
TWO_DAYS_AGO = "new Date(Date.now() - 2 * 86400000).toISOString().slice(0, 16)"


@pytest.fixture
def keeper(meet: Meet, school: School) -> Staff:
    """Somebody who keeps the store, signed in on a phone."""
    staff = Staff(meet("befalls", PHONE))
    staff.sign_in(school.sign_in_name, school.password)
    return staff


def at(staff: Staff, mark: str) -> None:
    """Open the page of an item by its mark."""
    staff.visitor.open(f"/kit?words={mark}")
    staff.page.locator("main").get_by_role("link", name=mark, exact=True).first.click()
    expect(staff.page.get_by_role("heading", level=1)).to_contain_text(f"{mark}:")


def test_what_one_holds_another_lets_out(keeper: Staff, meet: Meet, school: School) -> None:
    at(keeper, "Sling 2")
    keeper.quarantine("a nick beside the label")
    keeper.visitor.look("held")

    second = Staff(meet("befalls-second", PHONE))
    second.sign_in(SECOND, school.password)
    at(second, "Sling 2")
    second.page.get_by_role("link", name="Release", exact=True).click()
    second.visitor.look("release")
    second.page.get_by_label("What did you look at, and why is it sound?").fill("only dirt")
    second.page.get_by_role("button", name="Release it").click()
    expect(second.page.get_by_text("Recorded.")).to_be_visible()
    second.visitor.look("released")


def test_an_item_is_retired_and_counted(keeper: Staff) -> None:
    at(keeper, "Sling 3")
    keeper.retire("cut at one edge")
    keeper.visitor.look("retired")
    keeper.visitor.open("/kit/retired")
    keeper.visitor.look("retirement-count")


def test_a_batch_is_recalled_in_one_step(keeper: Staff) -> None:
    at(keeper, "Soft 1")
    keeper.page.get_by_role("link", name="Recall its batch").click()
    keeper.visitor.look("recall")
    keeper.page.get_by_label("Why is the batch recalled?").fill("the maker's notice")
    keeper.page.get_by_role("button", name="Quarantine the batch").click()
    expect(keeper.page.locator("main").get_by_text("in quarantine").first).to_be_visible()
    keeper.visitor.look("recalled")


def test_a_photo_is_added(keeper: Staff) -> None:
    at(keeper, "Sling 4")
    photo: FilePayload = {
        "name": "sling.jpg",
        "mimeType": "image/jpeg",
        "buffer": picture(size=(640, 480)),
    }
    keeper.page.get_by_label("Photo of the item").set_input_files(photo)
    keeper.page.get_by_role("button", name="Add the photo").click()
    expect(keeper.page.get_by_text("Added.")).to_be_visible()
    keeper.visitor.look("photo")


def test_what_it_was_exposed_to_stands_in_its_life(keeper: Staff) -> None:
    page = keeper.page
    at(keeper, "Strap 1")
    page.get_by_role("link", name="Exposure").click()
    keeper.visitor.look("exposure")
    page.get_by_text("the sun", exact=True).click()
    page.get_by_label("Hours in the sun").fill("6")
    page.get_by_role("button", name="Record it").click()
    expect(page.get_by_text("the sun: 6 h")).to_be_visible()
    keeper.visitor.look("exposed")


def test_what_comes_back_brings_its_pulls(keeper: Staff) -> None:
    page = keeper.page
    keeper.visitor.open("/kit")
    ready = page.get_by_role("region", name=re.compile("^May go out"))
    ready.get_by_role("link").first.click()
    page.get_by_role("link", name="Issue", exact=True).click()
    keeper.visitor.look("issue-one")
    for box in page.get_by_role("group", name="Look at each").get_by_role("checkbox").all():
        box.check()
    page.get_by_role("button", name="Issue it").click()
    page.get_by_role("link", name="Take it back").click()
    page.get_by_label("All that is not told apart below").select_option(label="back, wet")
    page.locator(".back-row summary").click()
    page.get_by_role("group", name=re.compile("^Pulls of")).get_by_label("light").fill("2")
    keeper.visitor.look("back-with-pulls")
    page.get_by_role("button", name="Take it back").click()
    expect(page.get_by_text("Taken back.")).to_be_visible()


def test_a_pull_is_written_up_late(keeper: Staff) -> None:
    page = keeper.page
    keeper.visitor.open("/classes")
    page.locator("main .big-link").first.click()
    page.get_by_role("link", name="Hold point and pulls").click()
    page.get_by_role("link", name="Log a light or heavy pull of one item").click()
    page.get_by_label("Item").select_option(label="Strap 2")
    page.locator("label.choice").filter(has_text="light: below").click()
    page.locator("label.choice").filter(has_text="came free").click()
    page.get_by_label("When was it").fill(page.evaluate(TWO_DAYS_AGO))
    keeper.visitor.look("late")
    page.get_by_role("button", name="Log the pull").click()
    expect(page.get_by_text("entered late")).to_be_visible()
    keeper.visitor.look("late-report")


def test_a_new_type_is_registered(keeper: Staff) -> None:
    page = keeper.page
    keeper.visitor.open("/kit/types/new")
    keeper.visitor.look("kinds")
    page.locator("main .chips a").filter(has_text="round sling").first.click()
    page.get_by_label("Name of the type").fill("Round sling 3 t")
    page.get_by_label("WLL as marked").fill("3 t")
    keeper.visitor.look("new-type")
    page.get_by_role("button", name="Register the type").click()
    expect(page.get_by_text("The type is registered.")).to_be_visible()


def test_a_table_is_tried_and_taken_in(keeper: Staff) -> None:
    page = keeper.page
    keeper.visitor.open("/kit/import")
    table: FilePayload = {"name": "kit.csv", "mimeType": "text/csv", "buffer": TABLE.encode()}
    for button, told in (("try_it", "Nothing was written"), ("take_in", "taken in.")):
        page.locator("input[type=file]").set_input_files(table)
        page.locator(f"button[name={button}]").click()
        expect(page.get_by_text(told)).to_be_visible()
        keeper.visitor.look(f"table-{button}")
