"""What a record says, held against what stands now: marks may change after it was issued."""

from __future__ import annotations

import math
from collections.abc import Iterable

from sqlalchemy.orm import Session

from coursekit.services.results import StudentResult, results_in
from coursekit.store import queries
from coursekit.store.queries.records import RecordLine

__all__ = ["moved"]

# Marks come in halves: what is closer than this is the same.
_DUST = 1e-9


def moved(session: Session, school_id: int, lines: Iterable[RecordLine]) -> dict[int, str]:
    """Return the outcome that stands now for the records that no longer say it, by record.

    A record is held against its class where something of its student was marked since it
    was issued: 1 query, and those of `results_in` for each class where that is so.
    """
    listed = {line.record_id: line for line in lines}
    classes = {line.class_id for line in listed.values()}
    touched = queries.records.marked_since(session, school_id, classes)
    doubted = [line for record_id, line in listed.items() if record_id in touched]
    stands = {
        (class_id, student.person_id): student
        for class_id in sorted({line.class_id for line in doubted})
        for student in results_in(session, school_id, class_id).students
    }
    return {
        line.record_id: student.outcome
        for line in doubted
        if (student := stands.get((line.class_id, line.person_id))) is not None
        and not _says(line, student)
    }


def _says(line: RecordLine, student: StudentResult) -> bool:
    """Whether a record says what stands now."""
    recorded, now = (line.marks, line.out_of), (student.marks, student.out_of)
    return line.outcome == student.outcome and all(
        math.isclose(one, other, abs_tol=_DUST) for one, other in zip(recorded, now, strict=True)
    )
