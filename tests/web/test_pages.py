"""What every page of the account and answer areas has in common."""

import pytest

from tests.web.visitor import Visitor

LARGEST = 100_000
TASKS = ("total", "build", "rear", "weak", "bin", "go", "steps")
PUBLIC = ("/", "/join", "/return", "/sign-in", "/nowhere")
OF_THE_STUDENT = ("/my-class", "/my-class/card", "/me")


@pytest.fixture
def pages(visitor: Visitor, student: Visitor, attempt: str) -> dict[str, Visitor]:
    """Each page, opened by somebody who may."""
    paths = [*OF_THE_STUDENT, attempt, f"{attempt}/hand-in"]
    paths += [f"{attempt}/tasks/{task}" for task in TASKS]
    opened = {path: Visitor(visitor.client).open(path) for path in PUBLIC}
    opened |= {path: Visitor(student.client).open(path) for path in paths}
    student.open(f"{attempt}/hand-in").send()
    return opened | {f"{attempt}/marks": student}


def test_pages_are_small(pages: dict[str, Visitor]) -> None:
    assert {path: len(page.html) for path, page in pages.items() if len(page.html) > LARGEST} == {}


def test_the_title_of_a_page_is_its_heading(pages: dict[str, Visitor]) -> None:
    for path, page in pages.items():
        assert page.heading, path
        assert page.title == f"{page.heading} · coursekit"


def test_every_page_says_that_it_clears_no_real_pull(pages: dict[str, Visitor]) -> None:
    for path, page in pages.items():
        assert "It clears no real pull." in page.html, path


def test_every_form_carries_a_token(pages: dict[str, Visitor]) -> None:
    for path, page in pages.items():
        for form in page.forms:
            assert form.method == "post", path
            assert any(name.endswith("csrf_token") for name, _value in form.pairs), path


def test_the_cautions_stand_on_the_brief_with_their_source(student: Visitor, attempt: str) -> None:
    student.open(attempt)

    assert student.html.count('class="caution"') >= 3
    assert "Australian consumer-safety material" in student.html
    assert "Never a tow ball" in student.html


def test_the_language_of_the_page_is_the_school_s(student: Visitor) -> None:
    assert '<html lang="en">' in student.open("/my-class").html
