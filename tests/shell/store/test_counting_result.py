"""Which of several markings counts, said in one place."""

from datetime import datetime
from typing import Any

import pytest
from sqlalchemy import select
from sqlalchemy.exc import IntegrityError

from coursekit.services import answering
from coursekit.services.class_now import class_now
from coursekit.store import tables
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import handed_in


def marked_once_more(unit: Unit, attempt_id: int, **other: Any) -> None:
    """Put a marking beside the first that differs in some columns."""
    with unit.write() as session:
        first = session.scalars(
            select(tables.AttemptResult).where(tables.AttemptResult.attempt_id == attempt_id)
        ).first()
        assert first is not None
        names = [column.key for column in tables.AttemptResult.__table__.columns]
        row = {name: getattr(first, name) for name in names if name != "id"}
        session.add(tables.AttemptResult(**{**row, "number": 2, **other}))


def test_the_newest_marking_that_counts_is_read_everywhere(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = handed_in(unit, cast, now)
    marked_once_more(unit, attempt_id, kind="changed", marks=1.5, reason="added up wrongly")

    assert answering.result_view(unit, cast.student.actor, attempt_id).marks == 1.5
    assert answering.my_class(unit, cast.student.actor).scenarios[0].marks == 1.5
    (student,) = class_now(unit, cast.instructor.actor, cast.class_id).students
    assert student.attempts[0].marks == 1.5


def test_a_blind_second_marking_never_counts(unit: Unit, cast: Cast, now: datetime) -> None:
    attempt_id = handed_in(unit, cast, now)
    first = answering.result_view(unit, cast.student.actor, attempt_id).marks
    marked_once_more(unit, attempt_id, kind="second", counts=False, marks=0.0)

    assert answering.result_view(unit, cast.student.actor, attempt_id).marks == first


@pytest.mark.parametrize("other", [{"kind": "second", "counts": True}, {"kind": "guessed"}])
def test_the_database_refuses_a_marking_of_no_kind_and_blind_marks_that_count(
    unit: Unit, cast: Cast, now: datetime, other: dict[str, Any]
) -> None:
    attempt_id = handed_in(unit, cast, now)

    with pytest.raises(IntegrityError):
        marked_once_more(unit, attempt_id, **other)
