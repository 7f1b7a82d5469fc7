"""A person's own data given out: every row that mentions them, and nobody else's."""

import io
import json
import zipfile
from datetime import datetime
from typing import Any

import pytest
from sqlalchemy import ForeignKeyConstraint, select

from coursekit.services import answering, personal_data, practising, teaching
from coursekit.services.answering import Join
from coursekit.services.errors import NotFound, RoleNeeded
from coursekit.store import tables
from coursekit.store.queries.personal import SECRET
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import appealed_and_answered, handed_in, pulled


@pytest.fixture
def busy(unit: Unit, cast: Cast, now: datetime) -> Unit:
    """A school in which Ana handed in, appealed and practised, and Bo sits beside her."""
    attempt_id = handed_in(unit, cast, now)
    appealed_and_answered(unit, cast, attempt_id)
    answering.join_class(unit, Join(cast.join_code, "Bo Ferris"), now)
    practising.ask(unit, cast.student.actor, now)
    pulled(unit, cast, now)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    return unit


def unpacked(archive: bytes) -> dict[str, str]:
    with zipfile.ZipFile(io.BytesIO(archive)) as found:
        return {name: found.read(name).decode("utf-8-sig") for name in found.namelist()}


def document(archive: bytes) -> dict[str, Any]:
    read: dict[str, Any] = json.loads(unpacked(archive)["data.json"])
    return read


def mentions(unit: Unit, person_id: int) -> dict[str, set[int]]:
    """Return the id of every row that points at a person, by the tables' own keys."""
    found: dict[str, set[int]] = {}
    with unit.read() as session:
        for table in tables.Base.metadata.sorted_tables:
            for key in table.constraints:
                if not isinstance(key, ForeignKeyConstraint) or "id" not in table.c:
                    continue
                column = list(key.columns)[-1]
                if key.referred_table.name == "people":
                    rows = session.scalars(select(table.c.id).where(column == person_id))
                    found.setdefault(table.name, set()).update(rows)
    return {name: ids for name, ids in found.items() if ids}


@pytest.mark.parametrize("member", ["student", "instructor", "storekeeper"])
def test_every_row_that_mentions_the_person_is_in_it(
    busy: Unit, cast: Cast, now: datetime, member: str
) -> None:
    who = getattr(cast, member).actor
    given = document(personal_data.own_data(busy, who, now))
    listed = {
        name: {row["id"] for part in ("about", "named_in") for row in given[part].get(name, ())
               if "id" in row}
        for name in mentions(busy, who.person_id)
    }  # fmt: skip

    assert listed == mentions(busy, who.person_id)


def test_what_hangs_on_the_papers_of_a_student_is_in_it_too(
    busy: Unit, cast: Cast, now: datetime
) -> None:
    about = document(personal_data.own_data(busy, cast.student.actor, now))["about"]

    assert {"people", "enrolments", "attempts", "answers", "attempt_results", "task_marks",
            "review_requests", "review_answers", "practice_questions"} <= set(about)  # fmt: skip
    assert about["people"][0]["name"] == "Ana Lim"
    assert {row["typed"] for row in about["answers"] if row["task_id"] == "total"} == {"7.3 kN"}


def test_nobody_elses_data_is_in_it(busy: Unit, cast: Cast, now: datetime) -> None:
    for member in (cast.student, cast.instructor, cast.storekeeper):
        text = str(unpacked(personal_data.own_data(busy, member.actor, now)))
        assert "Bo Ferris" not in text
        assert ("Ana Lim" in text) == (member is cast.student)


def test_what_is_secret_is_not_given_out(busy: Unit, cast: Cast, now: datetime) -> None:
    for member in (cast.student, cast.instructor):
        text = str(unpacked(personal_data.own_data(busy, member.actor, now)))
        assert "argon2" not in text
        assert SECRET in text


def test_the_readme_says_purposes_recipients_period_and_source(
    busy: Unit, cast: Cast, now: datetime
) -> None:
    """What a copy under Article 15 names; the words are ours."""
    readme = unpacked(personal_data.own_data(busy, cast.student.actor, now))["README.txt"]

    assert all(word in readme for word in ("Purposes", "Recipients", "Period", "Source"))
    assert "Ana Lim" in readme
    assert "84 months" in readme


def test_there_is_a_table_for_each_kind_of_row(busy: Unit, cast: Cast, now: datetime) -> None:
    archive = personal_data.own_data(busy, cast.student.actor, now)
    about = document(archive)["about"]
    files = unpacked(archive)

    assert set(files) == {"README.txt", "data.json", *(f"{name}.csv" for name in about)}
    assert files["people.csv"].count("\r\n") == 2
    assert archive == personal_data.own_data(busy, cast.student.actor, now)


def test_only_the_head_gives_out_anothers_data(busy: Unit, cast: Cast, now: datetime) -> None:
    ana = cast.student.actor.person_id

    by_head = document(personal_data.data_of(busy, cast.instructor.actor, ana, now))
    assert by_head == document(personal_data.own_data(busy, cast.student.actor, now))
    for member in (cast.storekeeper, cast.student):
        with pytest.raises(RoleNeeded):
            personal_data.data_of(busy, member.actor, cast.instructor.actor.person_id, now)
    with pytest.raises(NotFound):
        personal_data.data_of(busy, cast.outsider.actor, ana, now)
