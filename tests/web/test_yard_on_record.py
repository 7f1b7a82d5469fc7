"""What was seen in the yard stands where records are issued, and on the record."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import select

from coursekit.services import teaching
from coursekit.store.tables import AssessmentRecord
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.yard import YardWorld, mark_all, yard_world
from tests.web.visitor import Visitor


@pytest.fixture
def world(unit: Unit, cast: Cast, tmp_path: Path) -> YardWorld:
    return yard_world(unit, cast, tmp_path, NOW)


@pytest.mark.parametrize(
    ("lists", "told"),
    [
        ((), "yard list not marked: "),
        (("022",), "yard: unsafe"),
        (("222", "221"), "yard list seen differently by two, who are to agree: "),
        (("222", "222"), "yard: competent"),
    ],
)
def test_the_page_of_records_tells_how_each_yard_list_stands(
    instructor: Visitor, unit: Unit, world: YardWorld, lists: tuple[str, ...], told: str
) -> None:
    for who, levels in zip((world.mara, world.rowan), lists, strict=False):
        mark_all(unit, world, who, levels, NOW)
    instructor.open(f"/records/classes/{world.class_id}")
    assert told in instructor.html
    assert instructor.open(f"/classes/{world.class_id}/report").status == 200
    assert told in instructor.html


def test_a_record_without_a_paper_tells_what_was_seen_and_no_marks(
    instructor: Visitor, unit: Unit, world: YardWorld
) -> None:
    mark_all(unit, world, world.mara, "022", NOW)
    teaching.close_class(unit, world.mara, world.class_id, NOW)
    instructor.open(f"/records/classes/{world.class_id}").send(place="North yard")
    assert "1 record is issued, with 0 certificates." in instructor.html
    with unit.read() as session:
        record_id = session.scalars(select(AssessmentRecord.id)).one()
    instructor.open(f"/records/{record_id}")
    assert instructor.heading == "Ana Lim: unsafe"
    assert "not shown" in instructor.html
    assert "0 / 0" not in instructor.html
    assert instructor.client.get(f"/records/{record_id}.pdf").status_code == 200
