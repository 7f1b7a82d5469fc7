"""Records of assessment and certificates, as they are listed, shown and checked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import ScalarResult, Select, and_, exists, or_, select
from sqlalchemy.orm import Session, aliased

from coursekit.assessment.validity import Act, Term
from coursekit.store.tables import (
    AssessmentRecord,
    Attempt,
    AttemptResult,
    Certificate,
    CertificateAct,
    ClassSession,
    Course,
    Enrolment,
    KitItem,
    LedgerEntry,
    Person,
    School,
    YardSheet,
)


@dataclass(frozen=True)
class MarkingRow:
    """One marking of an attempt, of all that were made."""

    number: int
    kind: str
    by: int | None
    code: str | None
    reason: str | None
    marks: float
    out_of: float
    outcome: str
    at: datetime


@dataclass(frozen=True)
class ActRow:
    """What was done to a certificate."""

    act: Act
    reason: str
    by: str
    at: datetime


@dataclass(frozen=True)
class CertificateRow:
    """A certificate with all that was done to it since, in order."""

    id: int
    record_id: int
    code: str
    term: Term
    timezone: str
    issued_at: datetime
    replaces_id: int | None
    acts: tuple[ActRow, ...]


@dataclass(frozen=True)
class RecordLine:
    """A record as it is listed, with its certificate if it has one."""

    record_id: int
    seq: int
    person_id: int
    student: str
    class_id: int
    title: str
    course: str
    on: date
    outcome: str
    marks: float
    out_of: float
    issued_at: datetime
    certificate: CertificateRow | None


@dataclass(frozen=True)
class RecordRow:
    """A record whole; `school` and the names are those of today."""

    line: RecordLine
    school: str
    timezone: str
    issued_by: str
    follows_id: int | None
    followed_by: int | None
    document: Mapping[str, Any]
    prev_hash: str
    hash: str


@dataclass(frozen=True)
class PastRecord:
    """A record of a student who is no longer named, and the day of its class."""

    record_id: int
    on: date


def newest_in_class(session: Session, school_id: int, class_id: int) -> dict[int, AssessmentRecord]:
    """Return the newest record of each student of a class by person: 1 query."""
    rows = session.scalars(
        select(AssessmentRecord)
        .where(
            AssessmentRecord.school_id == school_id, AssessmentRecord.class_session_id == class_id
        )
        .order_by(AssessmentRecord.seq)
    )
    return {row.person_id: row for row in rows}


def last(session: Session, school_id: int) -> AssessmentRecord | None:
    """Return the last link of the school's chain: 1 query."""
    return session.scalar(
        select(AssessmentRecord)
        .where(AssessmentRecord.school_id == school_id)
        .order_by(AssessmentRecord.seq.desc())
        .limit(1)
    )


def chain(session: Session, school_id: int) -> ScalarResult[AssessmentRecord]:
    """Return all records of a school in their order, a few at a time: 1 query."""
    return session.scalars(
        select(AssessmentRecord)
        .where(AssessmentRecord.school_id == school_id)
        .order_by(AssessmentRecord.seq)
        .execution_options(yield_per=200)
    )


def lines(
    session: Session, school_id: int, *, class_id: int | None = None, person_id: int | None = None
) -> tuple[RecordLine, ...]:
    """Return the records that nothing followed, the newest first: 3 queries."""
    query = _lines(school_id).where(~_is_followed())
    if class_id is not None:
        query = query.where(AssessmentRecord.class_session_id == class_id)
    if person_id is not None:
        query = query.where(AssessmentRecord.person_id == person_id)
    return _listed(session, school_id, query)


def history(session: Session, school_id: int, person_id: int) -> tuple[RecordLine, ...]:
    """Return every record of a person, followed or not, the newest first: 3 queries."""
    query = _lines(school_id).where(AssessmentRecord.person_id == person_id)
    return _listed(session, school_id, query)


def marked_since(session: Session, school_id: int, class_ids: set[int]) -> frozenset[int]:
    """Return the records that nothing followed whose student was marked since: 1 query.

    On paper or in the yard, in the class of the record.
    """
    on_paper = exists().where(
        Attempt.enrolment_id == Enrolment.id,
        AttemptResult.attempt_id == Attempt.id,
        AttemptResult.counts,
        AttemptResult.marked_at >= AssessmentRecord.issued_at,
    )
    in_the_yard = exists().where(
        YardSheet.enrolment_id == Enrolment.id,
        YardSheet.handed_in_at >= AssessmentRecord.issued_at,
    )
    rows = session.scalars(
        select(AssessmentRecord.id)
        .join(
            Enrolment,
            and_(
                Enrolment.class_session_id == AssessmentRecord.class_session_id,
                Enrolment.person_id == AssessmentRecord.person_id,
            ),
        )
        .where(
            AssessmentRecord.school_id == school_id,
            AssessmentRecord.class_session_id.in_(class_ids),
            ~_is_followed(),
            or_(on_paper, in_the_yard),
        )
    )
    return frozenset(rows)


def record(session: Session, school_id: int, record_id: int) -> RecordRow | None:
    """Return a record of a school whole: 5 queries."""
    found = _listed(session, school_id, _lines(school_id).where(AssessmentRecord.id == record_id))
    if not found:
        return None
    row = session.get_one(AssessmentRecord, record_id)
    school = session.get_one(School, school_id)
    issuer = session.get_one(Person, row.issued_by)
    return RecordRow(
        line=found[0],
        school=school.name,
        timezone=row.document["class"]["timezone"],
        issued_by=issuer.name,
        follows_id=row.follows_id,
        followed_by=session.scalar(
            select(AssessmentRecord.id).where(
                AssessmentRecord.school_id == school_id, AssessmentRecord.follows_id == record_id
            )
        ),
        document=row.document,
        prev_hash=row.prev_hash,
        hash=row.hash,
    )


def of_code(session: Session, code: str) -> tuple[int, int] | None:
    """Return the school and the record of a certificate's code: 1 query.

    None where its holder's name was erased: it is nobody's certificate any more.
    """
    found = session.execute(
        select(Certificate.school_id, Certificate.record_id)
        .join(Person, Person.id == Certificate.person_id)
        .where(Certificate.code == code, Person.erased_at.is_(None))
    ).first()
    return None if found is None else (found[0], found[1])


def markings(session: Session, attempt_id: int) -> tuple[MarkingRow, ...]:
    """Return every marking of an attempt in order: 1 query."""
    rows = session.scalars(
        select(AttemptResult)
        .where(AttemptResult.attempt_id == attempt_id)
        .order_by(AttemptResult.number)
    )
    return tuple(
        MarkingRow(
            row.number,
            row.kind,
            row.marked_by,
            row.code,
            row.reason,
            row.marks,
            row.out_of,
            row.outcome,
            row.marked_at,
        )
        for row in rows
    )


def without_a_name(session: Session, school_id: int, before: date) -> tuple[PastRecord, ...]:
    """Return the records of classes before a day whose student is no longer named: 1 query.

    Those that were emptied already are left out.
    """
    rows = session.execute(
        select(AssessmentRecord, ClassSession.on)
        .join(ClassSession, ClassSession.id == AssessmentRecord.class_session_id)
        .join(Person, Person.id == AssessmentRecord.person_id)
        .where(
            AssessmentRecord.school_id == school_id,
            ClassSession.on < before,
            Person.erased_at.is_not(None),
        )
        .order_by(AssessmentRecord.seq)
    )
    return tuple(PastRecord(row.id, on) for row, on in rows if row.document)


def kit_used(session: Session, school_id: int, class_id: int) -> tuple[str, ...]:
    """Return the marks of the items that were pulled in a class: 1 query."""
    rows = session.scalars(
        select(KitItem.mark)
        .join(LedgerEntry, LedgerEntry.item_id == KitItem.id)
        .where(
            LedgerEntry.school_id == school_id,
            LedgerEntry.class_session_id == class_id,
            LedgerEntry.kind == "pull",
        )
        .distinct()
        .order_by(KitItem.mark)
    )
    return tuple(rows)


def names(session: Session, school_id: int, person_ids: set[int]) -> dict[int, str]:
    """Return the names of people of a school as they are today: 1 query."""
    rows = session.execute(
        select(Person.id, Person.name).where(
            Person.school_id == school_id, Person.id.in_(person_ids)
        )
    )
    return {row.id: row.name for row in rows}


def _is_followed() -> Any:
    later = aliased(AssessmentRecord)
    return exists().where(
        later.school_id == AssessmentRecord.school_id, later.follows_id == AssessmentRecord.id
    )


def _lines(school_id: int) -> Select[AssessmentRecord, str, ClassSession, str]:
    return (
        select(AssessmentRecord, Person.name, ClassSession, Course.title)
        .join(Person, Person.id == AssessmentRecord.person_id)
        .join(ClassSession, ClassSession.id == AssessmentRecord.class_session_id)
        .join(Course, Course.id == ClassSession.course_id)
        .where(AssessmentRecord.school_id == school_id)
        .order_by(AssessmentRecord.seq.desc())
    )


def _listed(
    session: Session, school_id: int, query: Select[AssessmentRecord, str, ClassSession, str]
) -> tuple[RecordLine, ...]:
    """Return the records of a query, those left out that were emptied when their time was up."""
    rows = session.execute(query).all()
    certificates = _certificates(session, school_id, {row.id for row, *_ in rows})
    return tuple(
        RecordLine(
            record_id=row.id,
            seq=row.seq,
            person_id=row.person_id,
            student=student,
            class_id=group.id,
            title=group.title,
            course=course,
            on=group.on,
            outcome=row.outcome,
            marks=row.document["marks"],
            out_of=row.document["out_of"],
            issued_at=row.issued_at,
            certificate=certificates.get(row.id),
        )
        for row, student, group, course in rows
        if row.document
    )


def _certificates(
    session: Session, school_id: int, record_ids: set[int]
) -> dict[int, CertificateRow]:
    of_records = (Certificate.school_id == school_id, Certificate.record_id.in_(record_ids))
    acts: dict[int, list[ActRow]] = {}
    for act, by in session.execute(
        select(CertificateAct, Person.name)
        .join(Certificate, Certificate.id == CertificateAct.certificate_id)
        .join(Person, Person.id == CertificateAct.person_id)
        .where(*of_records)
        .order_by(CertificateAct.id)
    ):
        acts.setdefault(act.certificate_id, []).append(ActRow(Act(act.act), act.reason, by, act.at))
    return {
        row.record_id: CertificateRow(
            id=row.id,
            record_id=row.record_id,
            code=row.code,
            term=Term(row.effective, row.expires, row.warn_days),
            timezone=row.timezone,
            issued_at=row.issued_at,
            replaces_id=row.replaces_id,
            acts=tuple(acts.get(row.id, ())),
        )
        for row in session.scalars(select(Certificate).where(*of_records))
    }
