"""An instructor changes a scenario in the browser: drafts, versions, problems, files."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from flask import Flask
from werkzeug.datastructures import FileStorage

from coursekit.files.blank_scenario import BLANK
from coursekit.files.scenario_file import read_scenario_text
from coursekit.services import drafting, preparing
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.files.ford import FILE, FORD, changed, line_of
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor, multipart

HEAVIER = ("mass: 2650 kg", "mass: 2700 kg   # weighed again")


@pytest.fixture
def scenario(instructor: Visitor, cast: Cast) -> Visitor:
    """The page of the school's scenario."""
    return instructor.open(f"/scenarios/{cast.version_id}")


@pytest.fixture
def text(scenario: Visitor, cast: Cast) -> Visitor:
    """The school's scenario as text, in a draft that has just begun."""
    scenario.send(f"/scenarios/{cast.version_id}/change")
    return scenario.open(scenario.path.removesuffix("/text") + "/text")


def newest(unit: Unit, cast: Cast) -> preparing.ScenarioVersion:
    return preparing.newest_versions(unit, cast.instructor.actor)[0]


def upload(visitor: Visitor, data: bytes) -> None:
    """Send a file from the page of new scenarios, and go where that leads."""
    file = FileStorage(BytesIO(data), "brought.yaml")
    form = {"csrf_token": visitor.value("csrf_token"), "file": file}
    answer = visitor.client.post("/scenarios/import", **multipart(form), follow_redirects=True)
    visitor.response = answer


def test_the_file_of_a_version_is_given_out_byte_for_byte(scenario: Visitor, cast: Cast) -> None:
    answer = scenario.client.get(f"/scenarios/{cast.version_id}/file")

    assert answer.data.decode() == FORD
    assert answer.headers["Content-Disposition"] == 'attachment; filename="ford-exit.yaml"'
    assert answer.mimetype == "application/yaml"


def test_a_changed_text_becomes_the_next_version_with_its_comments(
    text: Visitor, unit: Unit, cast: Cast
) -> None:
    text.send(text=changed(HEAVIER), act="save")

    assert text.path.startswith("/scenarios/")
    assert "Saved as version 2." in text.html
    saved = newest(unit, cast)
    assert saved.source == changed(HEAVIER)
    assert saved.digest == read_scenario_text(changed(HEAVIER), "by hand").digest
    assert preparing.scenario_version(unit, cast.instructor.actor, cast.version_id).source == FORD
    assert drafting.drafts(unit, cast.instructor.actor) == ()


def test_a_draft_is_kept_however_unsound_and_found_again(
    text: Visitor, app: Flask, cast: Cast
) -> None:
    text.send(text=changed(("mass: 2650 kg", "mass: 2650 kN")), act="try")
    again = on_the_device_of(app, cast.instructor).open("/scenarios/new")
    again.open(text.path)

    assert "mass: 2650 kN" in again.html
    assert again.heading == "Bogged at the ford exit: 1 thing to mend"
    assert "stuck_vehicle.mass" in again.notices[0]


def test_every_problem_is_told_at_once_with_its_line_and_nothing_is_saved(
    text: Visitor, unit: Unit, cast: Cast
) -> None:
    bad = changed(("mass: 2650 kg", "mass: 2650 kN"), ("exit: 90 deg", "exit: 900 deg"))
    text.send(text=bad, act="save")

    assert text.status == 422
    assert "It is kept as a draft." in text.notices[0]
    told = " ".join(text.notices)
    assert f"line {line_of('mass: 2650')}, stuck_vehicle.mass" in told
    assert f"line {line_of('exit: 90')}, stuck_vehicle.exit" in told
    assert newest(unit, cast).number == 1
    assert drafting.drafts(unit, cast.instructor.actor)[0].text == bad


def test_a_text_that_is_no_yaml_is_told_and_kept(text: Visitor) -> None:
    text.send(text="gear: [\n", act="try")

    assert "It is not YAML" in text.notices[0]
    assert "gear: [" in text.html


def test_a_second_tab_overwrites_nothing_unseen(text: Visitor, unit: Unit, cast: Cast) -> None:
    other = Visitor(text.client).open(text.path)
    text.send(text=changed(("mass: 2650 kg", "mass: 2600 kg")), act="try")
    other.send(text=changed(("mass: 2650 kg", "mass: 2800 kg")), act="save")

    assert other.status == 422
    assert "changed in another tab" in other.notices[0]
    assert "mass: 2800 kg" in other.html
    assert "2600 kg" in drafting.drafts(unit, cast.instructor.actor)[0].text

    other.send(act="save")
    assert newest(unit, cast).scenario.shown["stuck_vehicle.mass"] == "2800 kg"


def test_a_version_that_was_saved_meanwhile_is_told_before_one_follows_it(
    text: Visitor, unit: Unit, cast: Cast, tmp_path: Path
) -> None:
    path = text.path
    (tmp_path / FILE).write_text(changed(("mass: 2650 kg", "mass: 2900 kg")), encoding="utf-8")
    preparing.load_scenarios(unit, cast.instructor.actor, [tmp_path / FILE], NOW)
    text.send(text=changed(HEAVIER), act="save")

    assert text.path == path
    assert text.status == 422
    assert "Version 2 was saved since this draft began" in " ".join(text.notices)
    text.send(act="follow")
    assert newest(unit, cast).number == 3
    assert newest(unit, cast).source == changed(HEAVIER)


def test_saving_without_a_change_says_so(text: Visitor, unit: Unit, cast: Cast) -> None:
    text.send(act="save")

    assert text.notices[0] == "Nothing differs from version 1. Change something first."
    assert newest(unit, cast).number == 1


def test_a_draft_can_be_thrown_away_and_begun_again(text: Visitor, unit: Unit, cast: Cast) -> None:
    text.send(text="nothing of use", act="try")
    text.open(text.path.replace("/text", "/discard")).send()

    assert text.path == "/scenarios"
    assert drafting.drafts(unit, cast.instructor.actor) == ()


def test_a_copy_is_a_scenario_of_its_own(scenario: Visitor, unit: Unit, cast: Cast) -> None:
    scenario.send(f"/scenarios/{cast.version_id}/copy")
    draft = drafting.drafts(unit, cast.instructor.actor)[0]

    assert draft.text == changed(("id: ford-exit", "id: ford-exit-copy"))
    scenario.open(f"/scenarios/drafts/{draft.draft_id}/text").send(act="save")
    saved = preparing.newest_versions(unit, cast.instructor.actor)
    assert {(one.scenario.id, one.number) for one in saved} == {
        ("ford-exit", 1),
        ("ford-exit-copy", 1),
    }


def test_an_id_that_is_taken_is_not_taken_over(instructor: Visitor, unit: Unit, cast: Cast) -> None:
    instructor.open("/scenarios/new")
    upload(instructor, FORD.encode())
    instructor.send(act="save")

    assert "There is a scenario with the id ford-exit already" in instructor.notices[0]
    assert newest(unit, cast).number == 1


def test_a_blank_scenario_lacks_every_figure_and_says_which(instructor: Visitor) -> None:
    instructor.open("/scenarios/new").send()

    assert instructor.value("seen") == "1"
    for field in ("id", "title", "brief", "stuck_vehicle.mass", "ground.surface"):
        assert f">{field}</a>: It is empty." in instructor.html, field
    assert not any(letter.isdigit() for letter in BLANK.replace("[0, 0]", "").replace(": 1", ""))


def test_a_file_is_taken_in_with_its_comments_and_mistakes(
    instructor: Visitor, unit: Unit, cast: Cast
) -> None:
    bad = changed(HEAVIER, ("id: ford-exit", "id: other-exit"), ("wll: 5 t", "wll: 5 m"))
    instructor.open("/scenarios/new")
    upload(instructor, bad.encode("utf-8-sig"))

    assert drafting.drafts(unit, cast.instructor.actor)[0].text == bad
    assert "stuck_vehicle.points.rear.wll" in instructor.notices[0]


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"\x00\x01", "It is a binary file"),
        (b"\xff\xfe\x41", "It is not UTF-8 text"),
        (b"a" * (256 * 1024 + 1), "It is larger than 256 kB"),
        (b"a: 1\n" * 30_000, "larger than 128 kB"),
        (b"a: 1\n" * 300_000, "The file is too large. YAML, at most 256 kB."),
    ],
)
def test_a_file_that_is_none_of_ours_is_refused_with_the_reason(
    instructor: Visitor, data: bytes, says: str
) -> None:
    instructor.open("/scenarios/new")
    upload(instructor, data)

    assert instructor.status == 422
    assert says in " ".join(instructor.notices + instructor.errors)


def test_no_file_chosen_is_told(instructor: Visitor) -> None:
    instructor.open("/scenarios/new").send("/scenarios/import")

    assert instructor.errors == ["▲ Choose a file first."]


def test_a_colleague_does_not_find_my_draft(
    text: Visitor, unit: Unit, cast: Cast, app: Flask
) -> None:
    other = on_the_device_of(app, cast.outsider)

    for page in ("text", "file", "discard"):
        assert other.open(text.path.replace("/text", f"/{page}")).status == 404
