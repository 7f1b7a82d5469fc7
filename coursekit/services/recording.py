"""Recording: a school issues records of assessment, and certificates with them.

A record is written once.  When marks change later, another record is issued that names
the one it follows; the certificate of the earlier one is withdrawn in the same step.
"""

from __future__ import annotations

import secrets
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.assessment.codes import BITS, code_of
from coursekit.assessment.validity import Act, expiry, may_follow
from coursekit.services.actor import Actor, Role
from coursekit.services.checks import Checks
from coursekit.services.errors import NotFound, Refused
from coursekit.services.record_document import Circumstances, record_document
from coursekit.services.results import ClassResults, StudentResult, results_in
from coursekit.services.teaching import locked_class
from coursekit.store import queries, tables
from coursekit.store.chain import FIRST_HASH, first_broken, seal
from coursekit.store.queries.schools import locked_school
from coursekit.store.unit import Unit

__all__ = ["Circumstances", "Issued", "chain_break", "issue", "judge"]

FOLLOWED = "A later record of assessment took its place."
COMPETENT = "competent"


@dataclass(frozen=True)
class Issued:
    """What issuing came to: new records and certificates, and students with nothing new."""

    records: int
    certificates: int
    unchanged: int


def issue(
    unit: Unit, actor: Actor, class_id: int, circumstances: Circumstances, now: datetime
) -> Issued:
    """Issue the records of a closed class, for all of whom a paper or a yard list was handed in.

    A student whose record says already what this one would say gets no other.

    Raises
    ------
    Problems
        If the place is missing or a text is too long.
    Refused
        If the class is not closed, or nobody handed anything in.
    """
    actor.require(Role.INSTRUCTOR, Role.HEAD)
    circumstances = _checked(circumstances)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        if locked_class(session, actor, class_id).status != "closed":
            raise Refused("The class is not closed", "Close it first: then its marks are final")
        results = results_in(session, actor.school_id, class_id)
        students = [student for student in results.students if student.has_outcome]
        if not students:
            raise Refused("Nobody handed anything in", "There is nothing to record")
        desk = _Desk(session, actor, results, circumstances, now)
        made = [desk.issue(student) for student in students]
    return Issued(
        records=sum(1 for one in made if one is not None),
        certificates=sum(1 for one in made if one),
        unchanged=made.count(None),
    )


def judge(
    unit: Unit, actor: Actor, certificate_id: int, act: Act, reason: str, now: datetime
) -> None:  # fmt: skip
    """Suspend, reinstate or withdraw a certificate; what was before stays to be read.

    Raises
    ------
    Problems
        If no reason is given.
    Refused
        If it was withdrawn, or the act does not fit how the certificate stands.
    """
    actor.require(Role.HEAD)
    checks = Checks()
    reason = checks.text("reason", reason)
    checks.done()
    with unit.write() as session:
        locked_school(session, actor.school_id)
        certificate = session.get(tables.Certificate, certificate_id)
        if certificate is None or certificate.school_id != actor.school_id:
            raise NotFound("certificate")
        if not may_follow(_acts(session, certificate_id), act):
            raise Refused(
                "That does not fit how the certificate stands", "Look at its history, then decide"
            )
        session.add(_act(actor, certificate, act, reason, now))


def chain_break(unit: Unit, actor: Actor) -> int | None:
    """Return the number of the first record that was changed behind the school's back, if any."""
    actor.require(Role.HEAD)
    school_id = actor.school_id
    with unit.read() as session, closing(queries.records.chain(session, school_id)) as chain:
        return first_broken(chain)


class _Desk:
    """The issuing of one class, in one transaction of one person."""

    def __init__(
        self, session: Session, actor: Actor, results: ClassResults,
        circumstances: Circumstances, now: datetime,
    ) -> None:  # fmt: skip
        self._session = session
        self._actor = actor
        self._results = results
        self._circumstances = circumstances
        self._now = now
        self._known = queries.records.newest_in_class(session, actor.school_id, results.head.id)
        self._last = queries.records.last(session, actor.school_id)

    def issue(self, student: StudentResult) -> bool | None:
        """Issue a student's record; say whether it has a certificate, None if nothing is new."""
        document = record_document(
            self._session, self._actor.school_id, self._results, student, self._circumstances
        )
        before = self._known.get(student.person_id)
        # One that was emptied when its time was up is not written again.
        if before is not None and before.document in (document, {}):
            return None
        record = self._record(student, document, before)
        replaced = self._withdraw(before)
        if student.outcome != COMPETENT:
            return False
        self._certify(record, replaced)
        return True

    def _record(
        self, student: StudentResult, document: dict[str, Any],
        before: tables.AssessmentRecord | None,
    ) -> tables.AssessmentRecord:  # fmt: skip
        record = tables.AssessmentRecord(
            school_id=self._actor.school_id,
            seq=1 if self._last is None else self._last.seq + 1,
            class_session_id=self._results.head.id,
            person_id=student.person_id,
            follows_id=None if before is None else before.id,
            outcome=student.outcome,
            document=document,
            issued_by=self._actor.person_id,
            issued_at=self._now,
        )
        seal(record, FIRST_HASH if self._last is None else self._last.hash)
        self._session.add(record)
        self._session.flush()
        self._last = record
        return record

    def _withdraw(self, before: tables.AssessmentRecord | None) -> tables.Certificate | None:
        """Withdraw the certificate of the record before, and return it if there is one."""
        if before is None:
            return None
        certificate = self._session.scalar(
            select(tables.Certificate).where(tables.Certificate.record_id == before.id)
        )
        if certificate is not None and may_follow(
            _acts(self._session, certificate.id), Act.WITHDRAWN
        ):
            self._session.add(_act(self._actor, certificate, Act.WITHDRAWN, FOLLOWED, self._now))
        return certificate

    def _certify(
        self, record: tables.AssessmentRecord, replaced: tables.Certificate | None
    ) -> None:
        head, policy = self._results.head, self._results.policy.policy
        self._session.add(
            tables.Certificate(
                school_id=record.school_id,
                record_id=record.id,
                person_id=record.person_id,
                replaces_id=None if replaced is None else replaced.id,
                code=new_certificate_code(),
                effective=head.on,
                expires=expiry(head.on, policy.certificate_months),
                warn_days=policy.warn_days,
                timezone=ZoneInfo(head.timezone).key,
                issued_at=self._now,
            )
        )


def new_certificate_code() -> str:
    """Return a fresh code of 75 bits of chance."""
    while True:
        code = code_of(secrets.randbits(BITS))
        if code is not None:
            return code


def _checked(circumstances: Circumstances) -> Circumstances:
    checks = Checks()
    checked = Circumstances(
        place=checks.line("place", circumstances.place),
        conditions=checks.text("conditions", circumstances.conditions, needed=False),
        adjustments=checks.text("adjustments", circumstances.adjustments, needed=False),
    )
    checks.done()
    return checked


def _acts(session: Session, certificate_id: int) -> tuple[Act, ...]:
    rows = session.scalars(
        select(tables.CertificateAct.act)
        .where(tables.CertificateAct.certificate_id == certificate_id)
        .order_by(tables.CertificateAct.id)
    )
    return tuple(Act(act) for act in rows)


def _act(
    actor: Actor, certificate: tables.Certificate, act: Act, reason: str, now: datetime
) -> tables.CertificateAct:
    return tables.CertificateAct(
        school_id=certificate.school_id,
        certificate_id=certificate.id,
        act=act.value,
        reason=reason,
        person_id=actor.person_id,
        at=now,
    )
