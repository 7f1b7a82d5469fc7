"""Erasing a name: nothing of it is left in the database, and everything else stays as it was."""

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, select, text
from sqlalchemy.exc import DBAPIError

from coursekit.problems import CoursekitError
from coursekit.services import (
    accounts,
    answering,
    figures,
    kit,
    personal_data,
    recording,
    records,
    teaching,
    yard,
)
from coursekit.services.accounting import verify
from coursekit.services.answering import Join, Return
from coursekit.services.erasing import Erasure, empty_past_records, erase_past, erase_person
from coursekit.services.errors import NotFound, Refused, RoleNeeded
from coursekit.services.kit import Retirement
from coursekit.services.recording import Circumstances
from coursekit.services.yard import Agreed, Noted
from coursekit.store import tables
from coursekit.store.triggers import APPEND_ONLY, changeable
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import COMPETENT, appealed_and_answered, colleague, handed_in, pulled
from tests.shell.yard import CRITERIA, yard_world

# A name that is part of nothing else in the database.
NAME = "Ana Lim"


@pytest.fixture
def closed(unit: Unit, cast: Cast, now: datetime) -> int:
    """A class that is over: Ana handed in and appealed, Bo joined, and a pull was logged.

    Ana saw how a hook was destroyed.
    """
    attempt_id = handed_in(unit, cast, now)
    answering.join_class(unit, Join(cast.join_code, "Bo Ferris"), now)
    with pytest.raises(CoursekitError):
        answering.return_to_class(unit, Return(cast.join_code, NAME, "ZZZZZZ"), now)
    appealed_and_answered(unit, cast, attempt_id)
    pulled(unit, cast, now)
    ana, hook = cast.student.actor.person_id, cast.items["Hook 1"]
    end = Retirement(hook, 2, "bent", "sawn in two", ana, "retire-01")
    kit.retire(unit, cast.storekeeper.actor, end, now)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    return attempt_id


def erased(unit: Unit, cast: Cast, now: datetime, *, texts: bool = True) -> str:
    erasure = Erasure(cast.student.actor.person_id, texts=texts)
    return erase_person(unit, cast.instructor.actor, erasure, now)


def engine_of(unit: Unit) -> Engine:
    return unit._engine  # noqa: SLF001  the file behind the unit is what is looked at


def everything(unit: Unit) -> dict[str, list[Any]]:
    """Return every row of every table."""
    with unit.read() as session:
        return {
            table.name: [dict(row) for row in session.execute(select(table)).mappings()]
            for table in tables.Base.metadata.sorted_tables
        }


def appeal(unit: Unit) -> str | None:
    """Return what the student wrote as a reason to look again."""
    with unit.read() as session:
        return session.scalar(select(tables.ReviewRequest.reason))


def test_the_name_is_nowhere_in_the_file_nor_in_any_row(
    unit: Unit, cast: Cast, closed: int, now: datetime
) -> None:
    assert "ana lim" in str(everything(unit)).casefold()
    erased(unit, cast, now)

    assert "ana lim" not in str(everything(unit)).casefold()
    if engine_of(unit).dialect.name == "sqlite":
        file = Path(engine_of(unit).url.database or "")
        beside = (file, file.with_name(f"{file.name}-wal"))
        raw = b"".join(path.read_bytes() for path in beside if path.exists())
        assert raw.startswith(b"SQLite format 3")
        assert NAME.casefold().encode() not in raw.lower()


def test_statistics_marks_and_ledger_are_as_they_were(
    unit: Unit, cast: Cast, closed: int, now: datetime
) -> None:
    before = figures.class_figures(unit, cast.instructor.actor, cast.class_id)
    marks = answering.result_view(unit, cast.instructor.actor, closed)
    surrogate = erased(unit, cast, now)
    after = figures.class_figures(unit, cast.instructor.actor, cast.class_id)
    kept = answering.result_view(unit, cast.instructor.actor, closed)

    assert after.scenarios == before.scenarios
    assert (kept.marks, kept.tasks, kept.student) == (marks.marks, marks.tasks, surrogate)
    assert verify(unit, cast.storekeeper.actor).holds


def test_who_saw_an_item_destroyed_is_told_without_the_name(
    unit: Unit, cast: Cast, closed: int, now: datetime
) -> None:
    def witness() -> str:
        tobin, hook = cast.storekeeper.actor, cast.items["Hook 1"]
        return kit.item_life(unit, tobin, hook, now.date()).lines[-1].witness

    assert witness() == NAME
    surrogate = erased(unit, cast, now)

    assert witness() == surrogate


def test_nobody_else_is_touched(unit: Unit, cast: Cast, closed: int, now: datetime) -> None:
    theirs = "people", "enrolments", "sign_ins"
    ana = cast.student.actor.person_id
    before = everything(unit)
    erased(unit, cast, now)
    after = everything(unit)

    for name in theirs:
        others = [row for row in before[name] if row.get("person_id", row["id"]) != ana]
        assert [row for row in after[name] if row in others] == others
    for name in set(before) - {*theirs, "failed_tries", "review_requests", "practice_questions"}:
        assert after[name] == before[name], name


def test_every_way_in_is_destroyed(unit: Unit, cast: Cast, closed: int, now: datetime) -> None:
    erased(unit, cast, now)

    assert accounts.person_of(unit, cast.student.token, now) is None
    with pytest.raises(CoursekitError):
        answering.return_to_class(unit, Return("", NAME, cast.return_code), now)


def test_what_they_wrote_goes_with_the_name(
    unit: Unit, cast: Cast, closed: int, now: datetime
) -> None:
    erased(unit, cast, now)

    assert appeal(unit) == "(removed)"


def test_what_they_wrote_stays_where_the_head_says_so(
    unit: Unit, cast: Cast, closed: int, now: datetime
) -> None:
    erased(unit, cast, now, texts=False)

    assert appeal(unit) == "Look at the total again"


def test_the_code_of_a_certificate_leads_to_no_record_any_more(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now, **COMPETENT)
    head = cast.instructor.actor
    teaching.close_class(unit, head, cast.class_id, now)
    recording.issue(unit, head, cast.class_id, Circumstances("North yard", "dry", ""), now)
    (listed,) = records.records_of_class(unit, head, cast.class_id, now)
    code = listed.line.certificate.code if listed.line.certificate else ""
    assert records.checked(unit, code, "198.51.100.7", now) is not None
    surrogate = erased(unit, cast, now)

    assert records.checked(unit, code, "198.51.100.7", now) is None
    (kept,) = records.records_of_class(unit, head, cast.class_id, now)
    assert (kept.line.student, kept.line.record_id) == (surrogate, listed.line.record_id)
    assert records.record(unit, head, listed.line.record_id, now).record.document
    assert "ana lim" not in str(everything(unit)).casefold()


def test_the_name_goes_from_what_was_written_in_the_yard(
    unit: Unit, cast: Cast, tmp_path: Path, now: datetime
) -> None:
    world = yard_world(unit, cast, tmp_path, now)
    place = (world.enrolment_id, world.place)
    said = "Ana Lim said it, and Ná Lim not"
    for who, level in ((world.mara, 2), (world.rowan, 1)):
        for name in CRITERIA:
            key = f"note-of-{who.person_id}-{name.replace('.', '-')}"
            yard.note(unit, who, Noted(*place, name, level, said, key), now)
        yard.hand_in(unit, who, *place, now)
    yard.agree(unit, world.mara, Agreed(*place, dict.fromkeys(CRITERIA, 1), said), now)
    teaching.close_class(unit, world.mara, world.class_id, now)
    surrogate = erase_person(unit, world.mara, Erasure(world.student.person_id), now)

    rows = everything(unit)
    kept = f"{surrogate} said it, and Ná Lim not"
    assert {row["note"] for row in rows["yard_marks"]} == {kept}
    own, other, agreed = sorted(rows["yard_sheets"], key=lambda row: row["id"])
    assert own["notes"] == other["notes"] == dict.fromkeys(CRITERIA, kept)
    assert agreed["reason"] == kept


@pytest.mark.parametrize("table", APPEND_ONLY)
def test_recorded_rows_are_shut_again(
    unit: Unit, cast: Cast, closed: int, now: datetime, table: str
) -> None:
    erased(unit, cast, now)

    with engine_of(unit).connect() as connection:
        if connection.execute(text(f"SELECT count(*) FROM {table}")).scalar():
            with pytest.raises(Exception, match="append-only"):
                connection.execute(text(f"UPDATE {table} SET school_id = school_id"))


def test_somebody_in_an_open_class_is_refused_and_told_why(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    with pytest.raises(Refused, match="Saturday group is open, and they are in it"):
        erased(unit, cast, now)
    assert "Ana Lim" in str(everything(unit)["people"])


def test_a_name_is_erased_once(unit: Unit, cast: Cast, closed: int, now: datetime) -> None:
    erased(unit, cast, now)

    with pytest.raises(Refused, match="erased already"):
        erased(unit, cast, now)


def test_the_only_head_is_refused(unit: Unit, cast: Cast, closed: int, now: datetime) -> None:
    with pytest.raises(Refused, match="only head"):
        erase_person(unit, cast.instructor.actor, Erasure(cast.instructor.actor.person_id), now)


def test_one_of_the_staff_is_erased_and_signs_in_no_more(
    unit: Unit, cast: Cast, closed: int, now: datetime
) -> None:
    gone = colleague(unit, cast, "Ines Roe")
    erase_person(unit, cast.instructor.actor, Erasure(gone.actor.person_id), now)

    assert "ines roe" not in str(everything(unit)).casefold()
    assert accounts.person_of(unit, gone.token, now) is None


def test_only_the_head_of_the_same_school_erases(
    unit: Unit, cast: Cast, closed: int, now: datetime
) -> None:
    erasure = Erasure(cast.student.actor.person_id)
    with pytest.raises(NotFound):
        erase_person(unit, cast.outsider.actor, erasure, now)
    for member in (cast.storekeeper, cast.student):
        with pytest.raises(RoleNeeded):
            erase_person(unit, member.actor, erasure, now)


def test_a_name_is_past_the_day_after_its_period(
    unit: Unit, cast: Cast, closed: int, now: datetime
) -> None:
    """Seven years from 13 June 2026; the class of that day is kept the whole day."""
    last, past = datetime(2033, 6, 13, 12, tzinfo=now.tzinfo), timedelta(days=1)
    head = cast.instructor.actor

    assert personal_data.retention(unit, head, last).past == ()
    names = {one.name for one in personal_data.retention(unit, head, last + past).past}
    assert names == {"Ana Lim", "Bo Ferris"}


def test_a_record_without_a_name_is_emptied_when_its_time_is_up(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    """Seven years from 13 June 2026; the record of that day is kept the whole day."""
    handed_in(unit, cast, now, **COMPETENT)
    head, yard = cast.instructor.actor, Circumstances("North yard", "dry", "")
    teaching.close_class(unit, head, cast.class_id, now)
    recording.issue(unit, head, cast.class_id, yard, now)
    other = Circumstances("South yard", "", "")
    recording.issue(unit, head, cast.class_id, other, now)
    last, past = (datetime(2033, 6, day, 12, tzinfo=now.tzinfo) for day in (13, 14))

    assert empty_past_records(unit, head, past) == 0  # Ana is still named.
    erased(unit, cast, now)
    assert empty_past_records(unit, head, last) == 0
    assert len(personal_data.retention(unit, head, past).past_records) == 2
    before = everything(unit)
    assert empty_past_records(unit, head, past) == 2
    assert empty_past_records(unit, head, past) == 0

    after = everything(unit)
    rows = after.pop("assessment_records")
    assert [row | {"document": {}} for row in before.pop("assessment_records")] == rows
    assert after == before
    assert "north yard" not in str(after | {"records": rows}).casefold()
    assert records.records(unit, head, past) == ()
    with pytest.raises(NotFound):
        records.record(unit, head, rows[0]["id"], past)
    with pytest.raises(DBAPIError, match="append-only"), unit.write() as session:
        session.execute(text("UPDATE assessment_records SET outcome = 'unsafe'"))


def test_the_chain_holds_past_an_emptied_record_and_shows_a_changed_one(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now, **COMPETENT)
    head, yard = cast.instructor.actor, Circumstances("North yard", "dry", "")
    teaching.close_class(unit, head, cast.class_id, now)
    for place in ("North yard", "South yard"):
        recording.issue(unit, head, cast.class_id, replace(yard, place=place), now)
    erased(unit, cast, now)
    empty_past_records(unit, head, now + timedelta(days=8 * 366))
    assert recording.chain_break(unit, head) is None
    # It is not written again from the papers that stay.
    assert recording.issue(unit, head, cast.class_id, yard, now).records == 0
    with unit.write() as session, changeable(session.connection(), ["assessment_records"]):
        session.execute(text("UPDATE assessment_records SET hash = 'x' WHERE seq = 1"))
    assert recording.chain_break(unit, head) == 2


def test_a_head_alone_empties_records(unit: Unit, cast: Cast, closed: int, now: datetime) -> None:
    for member in (cast.storekeeper, cast.student):
        with pytest.raises(RoleNeeded):
            empty_past_records(unit, member.actor, now)


def test_all_that_is_past_goes_in_one_step(
    unit: Unit, cast: Cast, closed: int, now: datetime
) -> None:
    later = now + timedelta(days=8 * 366)

    assert erase_past(unit, cast.instructor.actor, now) == 0
    assert erase_past(unit, cast.instructor.actor, later) == 2
    assert personal_data.retention(unit, cast.instructor.actor, later).past == ()
    assert "bo ferris" not in str(everything(unit)).casefold()
