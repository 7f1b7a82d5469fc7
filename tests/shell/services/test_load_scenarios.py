"""Scenario files become versions; an old version stays as it was."""

from datetime import datetime
from pathlib import Path

import pytest

from coursekit.files.scenario_file import read_scenario
from coursekit.problems import Problems
from coursekit.rigging.solver import solve
from coursekit.services import preparing
from coursekit.services.errors import NotFound, RoleNeeded
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.files.ford import FILE, FORD, changed


def written(folder: Path, text: str, name: str = FILE) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_a_file_that_has_not_changed_adds_nothing(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path
) -> None:
    remarked = written(tmp_path, f"# a remark\n{FORD}")
    report = preparing.load_scenarios(unit, cast.instructor.actor, [remarked], now)

    assert (report.added, report.unchanged) == ((), ("ford-exit",))


def test_a_changed_file_is_a_new_version_and_the_old_one_stays(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path
) -> None:
    mara = cast.instructor.actor
    heavier = written(tmp_path, changed(("mass: 2650 kg", "mass: 2700 kg")))
    report = preparing.load_scenarios(unit, mara, [heavier], now)
    cards = preparing.list_scenarios(unit, mara)
    old = preparing.scenario_version(unit, mara, cast.version_id)

    assert report.added == ("ford-exit",)
    assert [(card.slug, card.number) for card in cards] == [("ford-exit", 2)]
    assert cards[0].version_id != cast.version_id
    assert old.scenario.shown["stuck_vehicle.mass"] == "2650 kg"
    assert old.source == FORD


def test_the_newest_version_of_each_is_given_whole_and_to_its_school_alone(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path
) -> None:
    mara = cast.instructor.actor
    heavier = written(tmp_path, changed(("mass: 2650 kg", "mass: 2700 kg")))
    preparing.load_scenarios(unit, mara, [heavier], now)
    newest = preparing.newest_versions(unit, mara)

    assert [(one.number, one.scenario.situation.stuck.mass) for one in newest] == [(2, 2700.0)]
    assert preparing.newest_versions(unit, cast.outsider.actor) == ()


def test_a_file_that_goes_back_is_the_newest_version_again(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path
) -> None:
    mara = cast.instructor.actor
    for text in (changed(("mass: 2650 kg", "mass: 2700 kg")), FORD):
        preparing.load_scenarios(unit, mara, [written(tmp_path, text)], now)
    card = preparing.list_scenarios(unit, mara)[0]
    stored = preparing.scenario_version(unit, mara, card.version_id).scenario

    assert card.number == 3
    assert stored.shown["stuck_vehicle.mass"] == "2650 kg"


def test_a_stored_scenario_solves_as_its_file_does(unit: Unit, cast: Cast, tmp_path: Path) -> None:
    from_file = read_scenario(written(tmp_path, FORD))
    stored = preparing.scenario_version(unit, cast.instructor.actor, cast.version_id).scenario

    assert stored == from_file
    for name, rig in from_file.rigs.items():
        assert dict(solve(stored.situation, stored.rigs[name]).values) == dict(
            solve(from_file.situation, rig).values
        )


def test_one_bad_file_and_none_is_stored(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path
) -> None:
    mara = cast.instructor.actor
    good = written(tmp_path, changed(("id: ford-exit", "id: new-one")), "new-one.yaml")
    bad = written(tmp_path, changed(("mass: 2650 kg", "mass: 2650 kN")))
    with pytest.raises(Problems, match=r"stuck_vehicle\.mass"):
        preparing.load_scenarios(unit, mara, [good, bad], now)

    assert [card.slug for card in preparing.list_scenarios(unit, mara)] == ["ford-exit"]


def test_a_version_that_is_not_there_is_not_found(unit: Unit, cast: Cast) -> None:
    with pytest.raises(NotFound):
        preparing.scenario_version(unit, cast.instructor.actor, 999)


def test_only_an_instructor_prepares(unit: Unit, cast: Cast, now: datetime) -> None:
    for member in (cast.storekeeper, cast.student):
        with pytest.raises(RoleNeeded):
            preparing.load_scenarios(unit, member.actor, [], now)
        with pytest.raises(RoleNeeded):
            preparing.scenario_version(unit, member.actor, cast.version_id)
