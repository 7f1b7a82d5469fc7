"""Every page that links lead to meets what all pages must meet."""

from __future__ import annotations

import re
from urllib.parse import urljoin, urlsplit

import pytest

from tests.browser.acts import Staff, Student
from tests.browser.conftest import LAPTOP, PHONE, Device, Meet
from tests.browser.visitor import Visitor
from tests.server import School

pytestmark = pytest.mark.browser

# So many pages of one shape (items, papers, tasks) are looked at.
OF_EACH_SHAPE = 3
NUMBER = re.compile(r"(?<=/)\d+(?=/|$)")
NO_PAGE = re.compile(r"(\.(svg|png|css|js|csv|xlsx|pdf|zip)|/file|/kit/files/\d+)$")
LINKS = "() => [...document.querySelectorAll('a[href]')].map((link) => link.getAttribute('href'))"


def walk(visitor: Visitor, start: str) -> dict[str, int]:
    """Open what can be reached by links, a few of each shape; return how many of which."""
    waiting, met, shapes = [start], set[str](), dict[str, int]()
    while waiting:
        path = waiting.pop(0)
        plain = urlsplit(path).path
        shape = NUMBER.sub("N", plain)
        if path in met or shapes.get(shape, 0) >= OF_EACH_SHAPE or NO_PAGE.search(plain):
            continue
        met.add(path)
        shapes[shape] = shapes.get(shape, 0) + 1
        visitor.open(path)
        visitor.look(shape.strip("/").replace("/", "-") or "first")
        found = [urljoin(visitor.page.url, link) for link in visitor.page.evaluate(LINKS)]
        inside = [urlsplit(link) for link in found if link.startswith(visitor.address)]
        waiting += [parts.path + (f"?{parts.query}" if parts.query else "") for parts in inside]
    return shapes


@pytest.mark.parametrize("device", [PHONE, LAPTOP], ids=["phone", "laptop"])
class TestPages:
    def test_of_an_instructor_who_keeps_the_store(
        self, meet: Meet, school: School, device: Device
    ) -> None:
        staff = Staff(meet(f"pages-staff-{device['viewport']['width']}", device))
        staff.sign_in(school.sign_in_name, school.password)

        shapes = walk(staff.visitor, "/classes")
        assert {"/classes", "/classes/N", "/papers/N", "/scenarios", "/kit"} <= set(shapes)
        assert {"/school", "/school/rules", "/school/standards/N"} <= set(shapes)

    def test_of_a_student(self, meet: Meet, school: School, device: Device) -> None:
        width = device["viewport"]["width"]
        student = Student(meet(f"pages-student-{width}", device))
        student.join(school.join_code, f"Oriel {width}")
        student.page.get_by_role("button", name="Begin").first.click()

        shapes = walk(student.visitor, "/my-class")
        assert {"/my-class", "/my-class/card", "/attempts/N", "/attempts/N/hand-in"} <= set(shapes)

    def test_of_somebody_who_is_not_signed_in(self, meet: Meet, device: Device) -> None:
        stranger = meet(f"pages-stranger-{device['viewport']['width']}", device)

        shapes = walk(stranger, "/")
        assert {"/", "/join", "/return", "/sign-in"} <= set(shapes)
