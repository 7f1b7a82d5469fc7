"""Taking a person's name out of what the school keeps, for good.

Rows that must stay (ledger, marks, records) point at people by id only, so the name goes
from one row and no chain is touched.  Ledgers of before may hold the name of a witness as
it was typed: those entries are chained and stay.  What lets the person in is destroyed.
What they wrote in their own words may go too, and what a record without a name says once
its time is up: for these alone append-only rows are opened, inside the same transaction.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, func, or_, select, update
from sqlalchemy.orm import Session

from coursekit.services.actor import Actor, Role
from coursekit.services.errors import Refused
from coursekit.services.joining import name_key
from coursekit.services.passwords import new_code
from coursekit.services.personal_data import retention_of, subject_row
from coursekit.services.staffing import only_head
from coursekit.store import queries, tables
from coursekit.store.queries.schools import locked_school
from coursekit.store.triggers import changeable
from coursekit.store.unit import Unit

SURROGATE = "erased {code}"
REMOVED = "(removed)"
RECORDS = ("assessment_records",)
OPEN_TEXTS = (
    "review_requests",
    "review_answers",
    "attempt_results",
    "certificate_acts",
    "yard_marks",
    "yard_sheets",
)


@dataclass(frozen=True)
class Erasure:
    """Whose name goes; `texts` says whether what they wrote in their own words goes too."""

    person_id: int
    texts: bool = True


def erase_person(unit: Unit, actor: Actor, erasure: Erasure, now: datetime) -> str:
    """Take a person's name out and return what stands in its place.

    Raises
    ------
    Refused
        If a class of theirs is open, they are the only head, or it was done before.
    """
    actor.require(Role.HEAD)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        surrogate = _erase(session, actor.school_id, erasure, now)
    unit.sweep()
    return surrogate


def erase_past(unit: Unit, actor: Actor, now: datetime) -> int:
    """Take out every name that is past the school's period and return how many there were.

    Whoever is in an open class is left for later.
    """
    actor.require(Role.HEAD)
    done = 0
    with unit.write() as session:
        locked_school(session, actor.school_id)
        for one in retention_of(session, actor.school_id, now).past:
            if _open_class(session, one.id) is None:
                _erase(session, actor.school_id, Erasure(one.id), now)
                done += 1
    if done:
        unit.sweep()
    return done


def empty_past_records(unit: Unit, actor: Actor, now: datetime) -> int:
    """Empty every record that is past the school's period; return how many there were.

    What it says goes; its number and hash stay, so that the chain of the others still holds.
    """
    actor.require(Role.HEAD)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        past = retention_of(session, actor.school_id, now).past_records
        written = tables.AssessmentRecord
        if past:
            with changeable(session.connection(), RECORDS):
                session.execute(update(written).where(written.id.in_(past)).values(document={}))
    if past:
        unit.sweep()
    return len(past)


def _erase(session: Session, school_id: int, erasure: Erasure, now: datetime) -> str:
    person = subject_row(session, school_id, erasure.person_id)
    _refuse(session, person)
    name, sign_in_name = person.name, person.sign_in_name
    surrogate = SURROGATE.format(code=new_code())
    person.name, person.sign_in_name, person.password_hash = surrogate, None, None
    person.erased_at, person.ended_at = now, person.ended_at or now
    _destroy_ways_in(session, person, surrogate)
    _forget_tries(session, {name_key(name), sign_in_name or name_key(name)})
    _forget_practice(session, person)
    session.flush()
    if erasure.texts:
        _remove_texts(session, person.id, (name, surrogate))
    return surrogate


def _refuse(session: Session, person: tables.Person) -> None:
    if person.erased_at is not None:
        raise Refused("This name is erased already", "There is nothing left to erase")
    title = _open_class(session, person.id)
    if title is not None:
        raise Refused(f"The class {title} is open, and they are in it", "Close the class first")
    if only_head(queries.people.staff(session, person.school_id)) == person.id:
        raise Refused("This is the school's only head", "Make somebody else a head first")


def _open_class(session: Session, person_id: int) -> str | None:
    """Return the title of an open class that somebody sits in or teaches, None for none."""
    return session.scalar(
        select(tables.ClassSession.title)
        .outerjoin(tables.Enrolment, tables.Enrolment.class_session_id == tables.ClassSession.id)
        .where(
            tables.ClassSession.status == "open",
            or_(
                tables.Enrolment.person_id == person_id,
                tables.ClassSession.instructor_id == person_id,
            ),
        )
        .limit(1)
    )


def _destroy_ways_in(session: Session, person: tables.Person, surrogate: str) -> None:
    session.execute(delete(tables.SignIn).where(tables.SignIn.person_id == person.id))
    session.execute(
        update(tables.Enrolment)
        .where(tables.Enrolment.person_id == person.id)
        .values(name_key=name_key(surrogate), return_tag=None, return_code_hash="")
    )


def _forget_tries(session: Session, names: set[str]) -> None:
    """Forget the failed tries that were counted under a name."""
    for name in names:
        ends = tables.FailedTries.key.endswith(f":{name}", autoescape=True)
        session.execute(delete(tables.FailedTries).where(ends))


def _forget_practice(session: Session, person: tables.Person) -> None:
    """Delete practice: it is nobody's but the person's own, and no record rests on it."""
    for table in (tables.PracticeQuestion, tables.PracticeSkill):
        session.execute(delete(table).where(table.person_id == person.id))


def _remove_texts(session: Session, person_id: int, names: tuple[str, str]) -> None:
    """Remove what the person wrote, and their name from what others wrote of them."""
    name, surrogate = names
    enrolments = select(tables.Enrolment.id).where(tables.Enrolment.person_id == person_id)
    attempts = select(tables.Attempt.id).where(tables.Attempt.enrolment_id.in_(enrolments))
    requests = select(tables.ReviewRequest.id).where(tables.ReviewRequest.attempt_id.in_(attempts))
    certificates = select(tables.Certificate.id).where(tables.Certificate.person_id == person_id)
    written = tables.ReviewRequest
    with changeable(session.connection(), OPEN_TEXTS):
        session.execute(update(written).where(written.asked_by == person_id).values(reason=REMOVED))
        for text, of_theirs in (
            (written.reason, written.attempt_id.in_(attempts)),
            (tables.ReviewAnswer.reason, tables.ReviewAnswer.review_request_id.in_(requests)),
            (tables.AttemptResult.reason, tables.AttemptResult.attempt_id.in_(attempts)),
            (tables.CertificateAct.reason, tables.CertificateAct.certificate_id.in_(certificates)),
            (tables.YardMark.note, tables.YardMark.enrolment_id.in_(enrolments)),
            (tables.YardSheet.reason, tables.YardSheet.enrolment_id.in_(enrolments)),
        ):
            session.execute(
                update(text.class_)
                .where(of_theirs, text.contains(name, autoescape=True))
                .values({text: func.replace(text, name, surrogate)})
            )
        lists = select(tables.YardSheet).where(tables.YardSheet.enrolment_id.in_(enrolments))
        for sheet in session.scalars(lists):
            sheet.notes = {key: note.replace(name, surrogate) for key, note in sheet.notes.items()}
        session.flush()
