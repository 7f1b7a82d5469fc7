"""What was typed of a yard list comes back where it is to be mended, and is told in plain words."""

from __future__ import annotations

from pathlib import Path

import pytest

from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.yard import YardWorld, mark_all, yard_world
from tests.web.visitor import Visitor

STALE = "This page stood open for long"
TO_MEND = "1 field is to be mended: go to it"
TOKEN = "CSRF"
OLD = {"csrf_token": "of yesterday"}


@pytest.fixture
def world(unit: Unit, cast: Cast, tmp_path: Path) -> YardWorld:
    return yard_world(unit, cast, tmp_path, NOW)


@pytest.fixture
def path(world: YardWorld) -> str:
    return f"/yard/{world.enrolment_id}/{world.place}"


@pytest.fixture
def differing(unit: Unit, world: YardWorld, path: str) -> str:
    """The address of a list in which Mara and Rowan saw two criteria differently."""
    mark_all(unit, world, world.mara, "212", NOW)
    mark_all(unit, world, world.rowan, "201", NOW)
    return path


def chosen(visitor: Visitor) -> dict[str, str]:
    """Return what is chosen on the page, by the name of the control."""
    return {
        name: value
        for form in visitor.forms
        for name, value in form.pairs
        if name.startswith("level")
    }


def test_a_note_without_a_level_stays_beside_what_is_missing(
    instructor: Visitor, path: str
) -> None:
    instructor.open(path)
    instructor.send(path, criterion="brief.roles", level="", note="after a hint", key="no-level-1")
    assert instructor.status == 422
    assert instructor.errors == ["▲ It has no level. Take one of the three."]
    assert TO_MEND in instructor.notices
    assert 'href="#at-brief.roles"' in instructor.html
    notes = [value for form in instructor.forms for name, value in form.pairs if name == "note"]
    assert notes == ["", "after a hint", ""]


def test_a_note_that_is_too_long_is_told_to_a_script_too(instructor: Visitor, path: str) -> None:
    instructor.open(path)
    sent = {
        "csrf_token": instructor.value("csrf_token") or "",
        "criterion": "brief.roles",
        "level": "2",
        "note": "x" * 501,
        "key": "too-long-1",
    }
    answer = instructor.client.post(path, data=sent, headers={"Accept": "application/json"})
    assert answer.status_code == 422
    assert answer.get_json()["error"] == "It has 501 characters. Take 500 at most."


def test_a_level_from_a_page_that_stood_open_for_long_stays(instructor: Visitor, path: str) -> None:
    instructor.open(path)
    sent = {"criterion": "brief.roles", "level": "1", "note": "slow", "key": "stale-key-1"}
    instructor.send(path, **OLD, **sent)
    assert instructor.status == 422
    assert STALE in instructor.notices[0]
    assert TOKEN not in instructor.html
    assert chosen(instructor) == {"level": "1"}
    assert 'value="slow"' in instructor.html


def test_levels_that_were_agreed_on_stay_where_the_page_stood_open_for_long(
    instructor: Visitor, differing: str
) -> None:
    levels = {"level-brief.roles": "0", "level-pull.slow": "1"}
    instructor.open(differing)
    instructor.send(f"{differing}/agree", **OLD, **levels, reason="looked again")
    assert STALE in instructor.notices[0]
    assert TOKEN not in instructor.html
    assert chosen(instructor) == levels
    assert instructor.value("reason") == "looked again"
    instructor.send(f"{differing}/agree", csrf_token=instructor.value("csrf_token") or "")
    assert instructor.heading == "The list of Ana Lim is handed in"


def test_what_is_missing_is_told_once_and_where(instructor: Visitor, differing: str) -> None:
    instructor.open(differing)
    instructor.send(f"{differing}/agree", **{"level-brief.roles": "0"}, reason="")
    assert instructor.status == 422
    assert instructor.errors == [
        "▲ It has no level. Take one of the three.", "▲ It is empty. Fill it in.",
    ]  # fmt: skip
    assert "2 fields are to be mended: go to the first" in instructor.notices
    assert instructor.html.count("It is empty") == 1
