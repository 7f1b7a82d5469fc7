"""A scenario that doesn't hold what it says is not opened in a class."""

from datetime import datetime
from pathlib import Path

import pytest

from coursekit.services import preparing, teaching
from coursekit.services.errors import Refused
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.files.ford import FILE, changed

WEAK_LINE = (
    "material: synthetic, length: 28 m, mbs: 88 kN",
    "material: synthetic, length: 28 m, mbs: 2 kN",
)


def draft_with(unit: Unit, cast: Cast, now: datetime, *version_ids: int) -> int:
    mara = cast.instructor.actor
    new = NewClass(cast.course_id, "Sunday group", now.date())
    class_id = teaching.create_class(unit, mara, new, now)
    teaching.choose_scenarios(unit, mara, ScenarioChoice(class_id, version_ids, seen=1))
    return class_id


@pytest.fixture
def unproven(unit: Unit, cast: Cast, now: datetime, tmp_path: Path) -> int:
    """A version that can be read, and whose rigs all break."""
    path = tmp_path / FILE
    path.write_text(changed(WEAK_LINE), encoding="utf-8")
    preparing.load_scenarios(unit, cast.instructor.actor, [path], now)
    return preparing.list_scenarios(unit, cast.instructor.actor)[0].version_id


def test_an_unproven_scenario_keeps_its_class_closed_and_says_why(
    unit: Unit, cast: Cast, now: datetime, unproven: int
) -> None:
    class_id = draft_with(unit, cast, now, unproven)
    with pytest.raises(Refused, match=r"Bogged at the ford exit is not proven: rigs\.given"):
        teaching.open_class(unit, cast.instructor.actor, class_id, now)

    status = {row.id: row.status for row in teaching.classes(unit, cast.instructor.actor)}
    assert status[class_id] == "draft"


def test_a_proven_one_is_opened(unit: Unit, cast: Cast, now: datetime, unproven: int) -> None:
    class_id = draft_with(unit, cast, now, cast.version_id)

    assert teaching.open_class(unit, cast.instructor.actor, class_id, now)
