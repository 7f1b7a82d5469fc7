"""Records and certificates: issued once, followed by others, chained, checked by their code."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from sqlalchemy import select, text
from sqlalchemy.exc import DBAPIError

from coursekit.assessment.codes import grouped
from coursekit.assessment.validity import Act, Validity
from coursekit.problems import Problems
from coursekit.services import moderating, recording, records, teaching, yard
from coursekit.services.errors import NotFound, Refused, RoleNeeded, TooManyTries
from coursekit.services.moderating import MarkChange
from coursekit.services.recording import Circumstances
from coursekit.services.yard import Noted
from coursekit.store import tables
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import ANSWERS, COMPETENT, handed_in, pulled
from tests.shell.yard import CRITERIA, mark_all, yard_world

YARD = Circumstances("North yard", "wet clay, light rain", "")


def closed(unit: Unit, cast: Cast, now: datetime, **typed: object) -> None:
    handed_in(unit, cast, now, **typed)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)


def issued(unit: Unit, cast: Cast, now: datetime) -> records.RecordView:
    recording.issue(unit, cast.instructor.actor, cast.class_id, YARD, now)
    (listed,) = records.records_of_class(unit, cast.instructor.actor, cast.class_id, now)
    return records.record(unit, cast.instructor.actor, listed.line.record_id, now)


def code_of(view: records.RecordView) -> str:
    assert view.record.line.certificate is not None
    return view.record.line.certificate.code


def test_a_record_holds_what_decided_it(unit: Unit, cast: Cast, now: datetime) -> None:
    pulled(unit, cast, now)
    closed(unit, cast, now, **COMPETENT)
    document = issued(unit, cast, now).record.document

    assert (document["place"], document["conditions"]) == ("North yard", "wet clay, light rain")
    assert document["student"] == cast.student.actor.person_id
    assert document["assessor"] == cast.instructor.actor.person_id
    assert document["kit"] == ["Bow 1", "Damper 1", "Line 1"]
    (paper,) = document["papers"]
    assert paper["digest"]
    assert paper["numbers"]
    assert paper["seed"] == "7"
    typed = {task["task"]: task["typed"] for task in paper["tasks"]}
    assert typed["total"] == "7.55 kN"
    assert all(task["verdict"] for task in paper["tasks"])
    assert [one["kind"] for one in paper["markings"]] == ["first"]


def test_no_name_stands_in_a_record(unit: Unit, cast: Cast, now: datetime) -> None:
    closed(unit, cast, now, **COMPETENT)
    kept = json.dumps(dict(issued(unit, cast, now).record.document))
    assert cast.student.name not in kept
    assert cast.instructor.name not in kept


def test_no_name_that_somebody_wrote_stands_in_a_record(
    unit: Unit, cast: Cast, tmp_path: Path, now: datetime
) -> None:
    """Records are chained, so erasing a name later can't take it out of them."""
    attempt_id = handed_in(unit, cast, now, **COMPETENT)
    mara, said = cast.instructor.actor, "Ana Lim said why"
    change = MarkChange(attempt_id, "total", "1", "other", said, seen=1)
    moderating.change_mark(unit, mara, change, now)
    teaching.close_class(unit, mara, cast.class_id, now)
    paper = issued(unit, cast, now).record.document
    assert [one["reason"] for one in paper["papers"][0]["markings"]] == [
        None, "(the student) said why",
    ]  # fmt: skip

    world = yard_world(unit, cast, tmp_path, now)
    for name in CRITERIA:
        key = f"note-of-{name.replace('.', '-')}"
        yard.note(unit, mara, Noted(world.enrolment_id, world.place, name, 2, said, key), now)
    yard.hand_in(unit, mara, world.enrolment_id, world.place, now)
    teaching.close_class(unit, mara, world.class_id, now)
    recording.issue(unit, mara, world.class_id, YARD, now)
    (listed,) = records.records_of_class(unit, mara, world.class_id, now)
    document = records.record(unit, mara, listed.line.record_id, now).record.document
    (sheet,) = document["yard"][0]["sheets"]
    assert sheet["notes"] == dict.fromkeys(CRITERIA, "(the student) said why")


def test_a_class_is_closed_before_it_is_recorded(unit: Unit, cast: Cast, now: datetime) -> None:
    handed_in(unit, cast, now)
    with pytest.raises(Refused, match="not closed"):
        recording.issue(unit, cast.instructor.actor, cast.class_id, YARD, now)


def test_a_record_says_where_it_was(unit: Unit, cast: Cast, now: datetime) -> None:
    closed(unit, cast, now)
    with pytest.raises(Problems, match="place"):
        recording.issue(unit, cast.instructor.actor, cast.class_id, Circumstances(" ", "", ""), now)


def test_the_same_record_is_not_issued_twice(unit: Unit, cast: Cast, now: datetime) -> None:
    closed(unit, cast, now, **COMPETENT)
    first = recording.issue(unit, cast.instructor.actor, cast.class_id, YARD, now)
    again = recording.issue(unit, cast.instructor.actor, cast.class_id, YARD, now)
    assert (first.records, first.certificates, first.unchanged) == (1, 1, 0)
    assert (again.records, again.certificates, again.unchanged) == (0, 0, 1)


def test_only_who_is_competent_gets_a_certificate(unit: Unit, cast: Cast, now: datetime) -> None:
    closed(unit, cast, now, **{**ANSWERS, "go": "no-go"})
    view = issued(unit, cast, now)
    assert view.record.line.outcome == "unsafe"
    assert view.record.line.certificate is None


def test_a_later_record_follows_and_withdraws_the_certificate_before(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    closed(unit, cast, now, **COMPETENT)
    first = issued(unit, cast, now)
    other = Circumstances("South yard", "", "")
    recording.issue(unit, cast.instructor.actor, cast.class_id, other, now)
    (listed,) = records.records_of_class(unit, cast.instructor.actor, cast.class_id, now)
    second = records.record(unit, cast.instructor.actor, listed.line.record_id, now)
    before = records.record(unit, cast.instructor.actor, first.record.line.record_id, now)

    assert second.record.follows_id == first.record.line.record_id
    assert before.record.followed_by == second.record.line.record_id
    assert before.validity is Validity.WITHDRAWN
    assert second.validity is Validity.VALID
    assert second.record.line.certificate is not None
    assert before.record.line.certificate is not None
    assert second.record.line.certificate.replaces_id == before.record.line.certificate.id
    assert len(
        records.records_of_person(unit, cast.student.actor, cast.student.actor.person_id, now)
    ) == len((first, second))


def test_what_was_seen_in_the_yard_alone_is_recorded(
    unit: Unit, cast: Cast, tmp_path: Path, now: datetime
) -> None:
    """Danger in the yard is on record, though no paper came in; and nobody is competent by it."""
    world = yard_world(unit, cast, tmp_path, now)
    mark_all(unit, world, world.rowan, "022", now)
    teaching.close_class(unit, world.mara, world.class_id, now)
    counts = recording.issue(unit, world.mara, world.class_id, YARD, now)
    assert (counts.records, counts.certificates) == (1, 0)
    (listed,) = records.records_of_class(unit, world.mara, world.class_id, now)
    assert listed.line.outcome == "unsafe"
    document = records.record(unit, world.mara, listed.line.record_id, now).record.document
    (place,) = document["yard"]
    assert (place["outcome"], document["papers"]) == ("unsafe", [])
    assert [sheet["by"] for sheet in place["sheets"]] == [world.rowan.person_id]


def test_where_nothing_came_in_there_is_no_record(
    unit: Unit, cast: Cast, tmp_path: Path, now: datetime
) -> None:
    world = yard_world(unit, cast, tmp_path, now)
    teaching.close_class(unit, world.mara, world.class_id, now)
    with pytest.raises(Refused, match="Nobody handed anything in"):
        recording.issue(unit, world.mara, world.class_id, YARD, now)


def test_records_are_chained_and_a_change_shows(unit: Unit, cast: Cast, now: datetime) -> None:
    closed(unit, cast, now, **COMPETENT)
    first = issued(unit, cast, now)
    head = cast.instructor.actor
    recording.issue(unit, head, cast.class_id, Circumstances("South yard", "", ""), now)
    assert recording.chain_break(unit, head) is None
    with unit.write() as session:
        rows = session.scalars(
            select(tables.AssessmentRecord).order_by(tables.AssessmentRecord.seq)
        ).all()
        assert rows[1].prev_hash == rows[0].hash == first.record.hash
        rows[0].outcome = "not-yet"
        with session.no_autoflush, pytest.raises(DBAPIError, match="append-only"):
            session.execute(text("UPDATE assessment_records SET outcome = 'not-yet'"))
        session.rollback()


def test_the_head_suspends_reinstates_and_withdraws_with_a_reason(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    closed(unit, cast, now, **COMPETENT)
    certificate = issued(unit, cast, now).record.line.certificate
    assert certificate is not None
    head = cast.instructor.actor
    stands = []
    for act in (Act.SUSPENDED, Act.REINSTATED, Act.WITHDRAWN):
        recording.judge(unit, head, certificate.id, act, "asked by the school", now)
        stands.append(records.records(unit, head, now)[0].validity)
    assert stands == [Validity.SUSPENDED, Validity.VALID, Validity.WITHDRAWN]
    with pytest.raises(Refused, match="does not fit"):
        recording.judge(unit, head, certificate.id, Act.REINSTATED, "a mistake", now)
    with pytest.raises(Problems, match="reason"):
        recording.judge(unit, head, certificate.id, Act.WITHDRAWN, " ", now)
    with pytest.raises(RoleNeeded):
        recording.judge(unit, cast.storekeeper.actor, certificate.id, Act.WITHDRAWN, "x", now)


def test_a_certificate_holds_by_the_calendar_of_its_class(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    closed(unit, cast, now, **COMPETENT)
    certificate = issued(unit, cast, now).record.line.certificate
    assert certificate is not None
    assert certificate.term.effective == date(2026, 6, 13)
    assert certificate.term.expires == date(2029, 6, 13)
    last = datetime(2029, 6, 13, 23, 59, tzinfo=ZoneInfo("Europe/London"))
    head = cast.instructor.actor
    assert records.records(unit, head, last)[0].validity is Validity.EXPIRING
    # Summer time: a minute past midnight in London is still the day before in UTC.
    after = (last + timedelta(minutes=1)).astimezone(UTC)
    assert after.date() == date(2029, 6, 13)
    assert records.records(unit, head, after)[0].validity is Validity.EXPIRED


def test_anybody_may_check_a_code(unit: Unit, cast: Cast, now: datetime) -> None:
    closed(unit, cast, now, **COMPETENT)
    code = code_of(issued(unit, cast, now))
    found = records.checked(unit, f" {grouped(code).lower()} ", "192.0.2.1", now)
    assert found is not None
    assert found.record.line.student == cast.student.name


def test_a_code_of_nobody_and_a_mistyped_one_are_told_apart(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    assert records.checked(unit, "000000000000000N", "192.0.2.1", now) is None
    with pytest.raises(Refused, match="no code"):
        records.checked(unit, "0000000000000000", "192.0.2.1", now)


def test_guessing_at_speed_is_held_back_and_others_are_not(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    closed(unit, cast, now, **COMPETENT)
    code = code_of(issued(unit, cast, now))

    def guess() -> None:
        records.checked(unit, "000000000000000N", "192.0.2.1", now)

    for _ in range(41):
        guess()
    with pytest.raises(TooManyTries):
        guess()
    assert records.checked(unit, code, "192.0.2.2", now) is not None
    later = now + timedelta(minutes=15)
    assert records.checked(unit, code, "192.0.2.1", later) is not None


def test_nobody_reads_the_records_of_others(unit: Unit, cast: Cast, now: datetime) -> None:
    closed(unit, cast, now, **COMPETENT)
    record_id = issued(unit, cast, now).record.line.record_id
    with pytest.raises(NotFound):
        records.record(unit, cast.outsider.actor, record_id, now)
    with pytest.raises(NotFound):
        recording.issue(unit, cast.outsider.actor, cast.class_id, YARD, now)
    with pytest.raises(NotFound):
        records.records_of_person(unit, cast.student.actor, cast.instructor.actor.person_id, now)
    assert records.records(unit, cast.outsider.actor, now) == ()
    own = records.own_records(unit, cast.student.actor, now)
    assert [listed.line.record_id for listed in own] == [record_id]
