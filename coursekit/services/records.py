"""Reading records: who is competent until when, one record whole, and checking a code."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from coursekit.assessment.codes import read_code
from coursekit.assessment.validity import Validity, validity
from coursekit.scenario.model import Scenario
from coursekit.services import tries
from coursekit.services.actor import Actor, Role
from coursekit.services.errors import NotFound, Refused
from coursekit.services.recording import COMPETENT
from coursekit.services.standing import moved
from coursekit.services.versions import scenario_of
from coursekit.store import queries
from coursekit.store.queries.records import CertificateRow, RecordLine, RecordRow
from coursekit.store.unit import Unit

__all__ = [
    "CertificateRow",
    "Listed",
    "Mistyped",
    "RecordLine",
    "RecordRow",
    "RecordView",
    "checked",
    "own_records",
    "record",
    "records",
    "records_of_class",
    "records_of_person",
    "stale_in_class",
]

# Somebody who reads a code from paper mistypes once or twice; a whole class may look.
CHECKS = tries.ADDRESS


class Mistyped(Refused):
    """The signs can be no code: their check sign does not fit them."""

    def __init__(self) -> None:
        super().__init__(
            "These signs are no code of ours", "A code has 16 signs; compare it with the paper"
        )


@dataclass(frozen=True)
class Listed:
    """A record as it stands today; no `validity` where it has no certificate.

    `moved` is the outcome that stands now where marks changed since, None where it says it.
    """

    line: RecordLine
    validity: Validity | None
    moved: str | None


@dataclass(frozen=True)
class RecordView:
    """A record whole, how its certificate stands today, and the names of who is in it.

    `scenarios` holds the scenario of each paper by its attempt, with the student's numbers;
    `moved` is the outcome that stands now where marks changed since it was issued.
    """

    record: RecordRow
    validity: Validity | None
    moved: str | None
    names: Mapping[int, str]
    scenarios: Mapping[int, Scenario]


def records(unit: Unit, actor: Actor, now: datetime) -> tuple[Listed, ...]:
    """Return the records of the school that none followed, the newest first."""
    actor.require(Role.INSTRUCTOR, Role.HEAD)
    with unit.read() as session:
        lines = queries.records.lines(session, actor.school_id)
        return _standing(session, actor, lines, now)


def records_of_class(unit: Unit, actor: Actor, class_id: int, now: datetime) -> tuple[Listed, ...]:
    """Return the records of a class that none followed."""
    actor.require(Role.INSTRUCTOR, Role.HEAD)
    with unit.read() as session:
        lines = queries.records.lines(session, actor.school_id, class_id=class_id)
        return _standing(session, actor, lines, now)


def stale_in_class(unit: Unit, actor: Actor, class_id: int) -> int:
    """Return how many records of a class no longer say what its marks say."""
    actor.require(Role.INSTRUCTOR, Role.HEAD)
    with unit.read() as session:
        lines = queries.records.lines(session, actor.school_id, class_id=class_id)
        return len(moved(session, actor.school_id, lines))


def records_of_person(
    unit: Unit, actor: Actor, person_id: int, now: datetime
) -> tuple[Listed, ...]:
    """Return every record of a student over all classes, followed ones too.

    Raises
    ------
    NotFound
        If there is none, or the actor may see nobody's but their own.
    """
    _require_own(actor, person_id)
    with unit.read() as session:
        lines = queries.records.history(session, actor.school_id, person_id)
        if not lines:
            raise NotFound("record")
        return _standing(session, actor, lines, now)


def own_records(unit: Unit, actor: Actor, now: datetime) -> tuple[Listed, ...]:
    """Return the actor's own records that none followed."""
    with unit.read() as session:
        lines = queries.records.lines(session, actor.school_id, person_id=actor.person_id)
        return _standing(session, actor, lines, now)


def record(unit: Unit, actor: Actor, record_id: int, now: datetime) -> RecordView:
    """Return a record whole, for the staff or for whom it is about."""
    with unit.read() as session:
        row = queries.records.record(session, actor.school_id, record_id)
        if row is None:
            raise NotFound("record")
        _require_own(actor, row.line.person_id)
        return _view(session, actor.school_id, row, now)


def checked(unit: Unit, typed: str, address: str, now: datetime) -> RecordView | None:
    """Return the record of a certificate's code for anybody who asks, None if there is none.

    Each try counts against the address that it comes from until one is right.

    Raises
    ------
    Mistyped
        If the signs can be no code at all.
    TooManyTries
        If too many came from this address.
    """
    key = f"certificate:{address}"
    tries.take(unit, key, CHECKS, now)
    code = read_code(typed)
    if code is None:
        raise Mistyped
    with unit.write() as session:
        found = queries.records.of_code(session, code)
        if found is None:
            return None
        row = queries.records.record(session, *found)
        if row is None:
            return None
        tries.forget(session, key)
        return _view(session, found[0], row, now)


def _view(session: Session, school_id: int, row: RecordRow, now: datetime) -> RecordView:
    papers = row.document["papers"]
    documents = queries.scenarios.documents(
        session, school_id, {paper["version"] for paper in papers}
    )
    other = moved(session, school_id, [row.line]).get(row.line.record_id)
    return RecordView(
        row,
        _validity(row.line, other, now),
        other,
        queries.records.names(session, school_id, _people_in(row)),
        {
            paper["attempt"]: scenario_of(documents[paper["version"]], paper["numbers"])
            for paper in papers
        },
    )


def _standing(
    session: Session, actor: Actor, lines: tuple[RecordLine, ...], now: datetime
) -> tuple[Listed, ...]:
    stands = moved(session, actor.school_id, lines)
    return tuple(
        Listed(line, _validity(line, other, now), other)
        for line in lines
        for other in (stands.get(line.record_id),)
    )


def _validity(line: RecordLine, other: str | None, now: datetime) -> Validity | None:
    certificate = line.certificate
    if certificate is None:
        return None
    today = now.astimezone(ZoneInfo(certificate.timezone)).date()
    acts = tuple(one.act for one in certificate.acts)
    is_borne_out = other in (None, COMPETENT)
    return validity(certificate.term, acts, today, is_borne_out=is_borne_out)


def _require_own(actor: Actor, person_id: int) -> None:
    if actor.person_id != person_id and not actor.has(Role.INSTRUCTOR, Role.HEAD):
        raise NotFound("record")


def _people_in(row: RecordRow) -> set[int]:
    document = row.document
    by = {one["by"] for paper in document["papers"] for one in paper["markings"]}
    by |= {sheet["by"] for place in document.get("yard", []) for sheet in place["sheets"]}
    return {document["student"], document["assessor"], *(by - {None})}
