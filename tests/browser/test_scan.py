"""Labels are read with a camera: Chromium's own false one, which is shown a film of codes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest
import segno
from playwright.sync_api import Page, Playwright, expect

from tests.browser.acts import Staff
from tests.browser.conftest import CHROMIUM, PHONE, QUIET, Meet
from tests.browser.visitor import Visitor
from tests.server import School

pytestmark = pytest.mark.browser

WIDE, HIGH = 640, 480
GREY, NO_COLOUR = 150, 128
FRAMES_EACH = 8
FOREIGN = "https://elsewhere.invalid/kit/items/1"


def picture(text: str) -> np.ndarray:
    """Return a frame with a code in its middle, light as a label on a grey bench."""
    modules = np.array([list(row) for row in segno.make(text, error="m").matrix_iter(border=4)])
    code = np.where(np.kron(modules, np.ones((8, 8))) > 0, 20, 235).astype(np.uint8)
    frame = np.full((HIGH, WIDE), GREY, np.uint8)
    top, left = (HIGH - code.shape[0]) // 2, (WIDE - code.shape[1]) // 2
    frame[top : top + code.shape[0], left : left + code.shape[1]] = code
    return frame


def film(path: Path, texts: Sequence[str]) -> Path:
    """Write a film that shows one code after the other, as YUV4MPEG2 with 4:2:0 planes."""
    blank = np.full((HIGH, WIDE), GREY, np.uint8)
    colour = bytes([NO_COLOUR]) * (WIDE * HIGH // 2)
    with path.open("wb") as file:
        file.write(f"YUV4MPEG2 W{WIDE} H{HIGH} F4:1 Ip A1:1 C420jpeg\n".encode())
        for text in texts:
            for frame in [picture(text)] * FRAMES_EACH + [blank] * 2:
                file.write(b"FRAME\n" + frame.tobytes() + colour)
    return path


@contextmanager
def camera(playwright: Playwright, shown: Path) -> Iterator[Page]:
    """Give a page of a phone whose camera sees a film."""
    flags = [
        "--use-fake-device-for-media-stream",
        "--use-fake-ui-for-media-stream",
        f"--use-file-for-fake-video-capture={shown}",
    ]
    browser = playwright.chromium.launch(executable_path=CHROMIUM, args=[*QUIET, *flags])
    page = browser.new_context(**PHONE, locale="en-GB").new_page()
    page.set_default_timeout(15_000)
    yield page
    browser.close()


def item_of(staff: Staff, mark: str) -> str:
    """Return the address of an item."""
    staff.visitor.open(f"/kit?words={mark.replace(' ', '+')}")
    link = staff.page.get_by_role("link", name=mark, exact=True).get_attribute("href")
    assert link
    return staff.visitor.address + link


def test_labels_are_scanned_onto_the_list_and_issued(
    playwright: Playwright, school: School, shots: Path, tmp_path: Path
) -> None:
    path = tmp_path / "codes.y4m"
    film(path, ["to be written once the addresses are known"])
    with camera(playwright, path) as page:
        staff = Staff(Visitor(page, school.address, shots, "scanner"))
        staff.sign_in(school.sign_in_name, school.password)
        film(path, [item_of(staff, "Bow 2"), FOREIGN, item_of(staff, "Sling 2")])

        staff.visitor.open("/kit/scan?act=issue")
        staff.visitor.look("scan")
        page.get_by_role("button", name="Open the camera").click()
        expect(page.get_by_text("This code is not a label of this store")).to_be_visible()
        scanned = page.locator("#scanned").get_by_role("listitem")
        expect(scanned).to_have_count(2)
        expect(scanned.filter(has_text="Bow 2")).to_be_visible()
        staff.visitor.look("scanned", is_first_visit=False)
        page.get_by_role("button", name="Close the camera").click()
        expect(page.locator("video")).to_be_hidden()

        page.get_by_role("link", name="Look at 2 items, then issue them").click()
        expect(page.get_by_role("checkbox", name="Sling 2")).to_be_checked()
        looks = page.get_by_role("group", name="Look at each before it goes")
        for box in looks.locator("label").all():
            box.click()
        page.get_by_role("button", name="Issue what is chosen").click()
        expect(page.get_by_text("Issued.")).to_be_visible()
        assert staff.visitor.complaints == []


def test_a_label_opens_its_item(
    playwright: Playwright, school: School, shots: Path, tmp_path: Path
) -> None:
    path = film(tmp_path / "codes.y4m", [FOREIGN])
    with camera(playwright, path) as page:
        staff = Staff(Visitor(page, school.address, shots, "opener"))
        staff.sign_in(school.sign_in_name, school.password)
        address = item_of(staff, "Hook 1")
        film(path, [address])
        staff.visitor.open("/kit/scan")
        page.get_by_role("button", name="Open the camera").click()
        page.wait_for_url(address)

        assert staff.visitor.complaints == []


def test_a_page_without_a_camera_says_what_to_do(meet: Meet, school: School) -> None:
    staff = Staff(meet("without-camera", PHONE))
    staff.sign_in(school.sign_in_name, school.password)
    staff.visitor.open("/kit/scan")
    staff.page.get_by_role("button", name="Open the camera").click()

    expect(staff.page.get_by_role("status")).to_contain_text("type the mark", ignore_case=True)
    staff.visitor.look("scan-without-camera")
