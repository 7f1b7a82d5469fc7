"""Without a demo, the first visit sets up the school and its first instructor."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, Meet
from tests.server import running

pytestmark = pytest.mark.browser


def test_the_first_visit_sets_up_the_school(meet: Meet, tmp_path: Path) -> None:
    with running(tmp_path) as school:
        head = meet("head", LAPTOP, address=school.address)
        head.open("/")
        page = head.page
        page.get_by_label("Name of the school").fill("Harrow Hill Recovery School")
        page.get_by_label("Time zone").fill("Europe/Dublin")
        page.get_by_label("Your name").fill("Petra Holm")
        page.get_by_label("Your sign-in name").fill("petra")
        page.get_by_label("Password", exact=True).fill("walnut saddle lantern")
        page.get_by_label("Password again").fill("walnut saddle lantern")
        head.look("set-up")
        page.get_by_role("button").last.click()
        expect(page.get_by_role("link", name="Classes", exact=True)).to_be_visible()
        head.look("set-up-done")
        page.get_by_role("link", name="Scenarios", exact=True).click()
        expect(page.get_by_role("heading", level=1)).to_contain_text(re.compile(r"^[1-9]"))
        head.look("scenarios")
