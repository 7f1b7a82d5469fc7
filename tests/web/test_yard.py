"""The yard list by phone: with script (JSON at each tap) and without."""

from __future__ import annotations

from pathlib import Path

import pytest
from flask import Flask

from coursekit.services import teaching
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.classroom import colleague
from tests.shell.yard import CRITERIA, YardWorld, mark_all, yard_world
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor


@pytest.fixture
def world(unit: Unit, cast: Cast, tmp_path: Path) -> YardWorld:
    return yard_world(unit, cast, tmp_path, NOW)


@pytest.fixture
def path(world: YardWorld) -> str:
    return f"/yard/{world.enrolment_id}/{world.place}"


def tap(visitor: Visitor, path: str, name: str, level: str) -> tuple[int, dict[str, object]]:
    """Send one level from a fresh page, as the script does."""
    return tapped(visitor.open(path), path, name, level)


def tapped(visitor: Visitor, path: str, name: str, level: str) -> tuple[int, dict[str, object]]:
    """Send one level from the page that is open."""
    form = {
        "csrf_token": visitor.value("csrf_token") or "",
        "criterion": name,
        "level": level,
        "key": f"tap-{name}-{level}".replace(".", "-"),
    }
    answer = visitor.client.post(path, data=form, headers={"Accept": "application/json"})
    return answer.status_code, answer.get_json()


def test_the_class_leads_to_its_students_and_their_lists(
    instructor: Visitor, world: YardWorld, path: str
) -> None:
    instructor.open(f"/classes/{world.class_id}/yard")
    assert instructor.heading == "0 of 1 yard list is marked"
    assert path in instructor.html
    assert instructor.open(path).heading == "Ana Lim: 3 criteria to look at"


def test_a_tap_is_saved_and_counts_down(instructor: Visitor, path: str) -> None:
    assert tap(instructor, path, "brief.roles", "2") == (200, {"said": "saved", "answered": 1})
    assert instructor.open(path).heading == "Ana Lim: 2 criteria to look at"
    status, said = tap(instructor, path, "brief.other", "2")
    assert status == 422
    assert "no such criterion" in str(said["error"])


def test_without_script_each_criterion_has_its_save(instructor: Visitor, path: str) -> None:
    instructor.open(path)
    key = "without-script"
    instructor.send(path, criterion="brief.roles", level="1", note="after a hint", key=key)
    assert instructor.heading == "Ana Lim: 2 criteria to look at"
    assert "after a hint" in instructor.html
    instructor.send(path, criterion="brief.roles", level="", key="no-level-1")
    assert instructor.status == 422


def test_handing_in_too_early_says_what_is_left(instructor: Visitor, path: str) -> None:
    instructor.open(path).send(f"{path}/hand-in")
    assert "3 criteria have no level yet" in instructor.html


def test_a_list_handed_in_shows_its_outcome_and_why(
    instructor: Visitor, path: str, world: YardWorld, unit: Unit
) -> None:
    for name in CRITERIA:
        tap(instructor, path, name, "0" if name == "brief.stop-word" else "2")
    instructor.open(path).send(f"{path}/hand-in")
    assert instructor.heading == "The list of Ana Lim is handed in"
    assert "Critical and not shown: Names the stop word" in instructor.html


def test_two_who_differ_are_brought_together(
    instructor: Visitor, path: str, world: YardWorld, unit: Unit
) -> None:
    mark_all(unit, world, world.mara, "222", NOW)
    mark_all(unit, world, world.rowan, "122", NOW)
    instructor.open(path)
    assert instructor.heading == "Two assessors saw Ana Lim differently"
    instructor.send(f"{path}/agree", **{"level-brief.stop-word": "1"}, reason="")
    assert instructor.status == 422
    instructor.send(f"{path}/agree", **{"level-brief.stop-word": "1"}, reason="only after a hint")
    assert "it took prompting: Names the stop word" in instructor.html
    instructor.open(f"/classes/{world.class_id}/yard")
    assert "agree in 2" in instructor.html


def test_who_saw_it_is_not_offered_to_raise_what_the_other_did_not_see(
    instructor: Visitor, path: str, world: YardWorld, unit: Unit
) -> None:
    mark_all(unit, world, world.mara, "222", NOW)
    mark_all(unit, world, world.rowan, "021", NOW)
    instructor.open(path)
    assert instructor.html.count('name="level-brief.stop-word"') == 1
    assert instructor.html.count('name="level-pull.slow"') == 3
    assert "only they may raise it" in instructor.html
    levels = {"level-brief.stop-word": "2", "level-pull.slow": "2"}
    instructor.send(f"{path}/agree", **levels, reason="looked again")
    assert instructor.status == 422
    assert "It is critical" in instructor.html


def test_a_third_is_offered_no_form(
    app: Flask, unit: Unit, cast: Cast, path: str, world: YardWorld
) -> None:
    mark_all(unit, world, world.mara, "222", NOW)
    mark_all(unit, world, world.rowan, "122", NOW)
    third = on_the_device_of(app, colleague(unit, cast, "Ines Roe")).open(path)
    assert third.heading == "Two others have marked the list of Ana Lim"
    assert third.forms == []


def test_nobody_sees_the_other_list_before_handing_in(
    instructor: Visitor, path: str, world: YardWorld, unit: Unit
) -> None:
    mark_all(unit, world, world.rowan, "022", NOW)
    instructor.open(path)
    assert "Rowan Pike" not in instructor.html
    assert " checked" not in instructor.html


def test_the_class_tells_a_second_assessor_who_marked_and_not_what(
    app: Flask, cast: Cast, path: str, world: YardWorld, unit: Unit
) -> None:
    mark_all(unit, world, world.mara, "022", NOW)
    second = on_the_device_of(app, colleague(unit, cast, "Ines Roe"))
    second.open(f"/classes/{world.class_id}/yard")
    assert second.heading == "1 of 1 yard list is marked"
    assert "by Mara Quint; what they saw stands here once your own list is in" in second.html
    assert "Unsafe" not in second.html


def test_once_the_class_is_closed_a_list_is_read_and_not_marked(
    app: Flask, unit: Unit, cast: Cast, path: str, world: YardWorld
) -> None:
    second = on_the_device_of(app, colleague(unit, cast, "Ines Roe"))
    mark_all(unit, world, world.mara, "222", NOW)
    tap(second, path, "brief.roles", "1")
    teaching.close_class(unit, world.mara, world.class_id, NOW)
    status, said = tapped(second, path, "brief.roles", "2")
    assert (status, said["error"]) == (
        422, "The class is not open. What was not handed in stays so.",
    )  # fmt: skip
    second.open(path)
    assert second.heading == "The class is not open: Ana Lim can't be marked"
    assert "You, not handed in: ◆ with prompting" in second.html
    assert "Mara Quint: ✓ unaided" in second.html
    assert second.forms == []


def test_whose_list_is_not_handed_in_is_named_before_the_class_is_closed(
    instructor: Visitor, unit: Unit, world: YardWorld
) -> None:
    told = "The yard list of 1 student is not handed in: Ana Lim."
    close = f"/classes/{world.class_id}/close"
    assert told in instructor.open(close).notices
    mark_all(unit, world, world.rowan, "222", NOW)
    assert told not in instructor.open(close).notices
