"""A row of one school can never point at another's, whatever a service does."""

import pytest
from sqlalchemy import Engine, ForeignKeyConstraint, Table, insert, select
from sqlalchemy.exc import IntegrityError

from coursekit.store.tables import Base, ClassSession, Enrolment, KitCount, PersonRole
from tests.cast import NOW, Cast

# A guessed code or name belongs to no school.
OF_NO_SCHOOL = {"schools", "failed_tries"}
TABLES = [table for name, table in Base.metadata.tables.items() if name not in OF_NO_SCHOOL]


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_every_row_belongs_to_a_school(table: Table) -> None:
    assert not table.columns["school_id"].nullable


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_every_key_carries_the_school_along(table: Table) -> None:
    for key in table.constraints:
        if isinstance(key, ForeignKeyConstraint):
            pointed = {element.column.name for element in key.elements}
            to_school = key.referred_table.name == "schools"
            assert to_school or (key.columns.contains_column(table.columns["school_id"]))
            assert to_school or "school_id" in pointed


def test_a_class_can_not_be_taught_by_another_schools_instructor(
    engine: Engine, cast: Cast
) -> None:
    assert_refused(
        engine,
        ClassSession,
        school_id=cast.instructor.actor.school_id,
        course_id=cast.course_id,
        title="Sunday group",
        on=NOW.date(),
        timezone="Europe/London",
        status="draft",
        instructor_id=cast.outsider.actor.person_id,
        created_at=NOW,
        version=1,
    )


def test_a_student_of_one_school_can_not_sit_in_another_schools_class(
    engine: Engine, cast: Cast
) -> None:
    assert_refused(
        engine,
        Enrolment,
        school_id=cast.outsider.actor.school_id,
        class_session_id=cast.class_id,
        person_id=cast.outsider.actor.person_id,
        name_key="idris",
        return_code_hash="x",
        joined_at=NOW,
    )


def test_a_role_can_not_be_given_across_schools(engine: Engine, cast: Cast) -> None:
    assert_refused(
        engine,
        PersonRole,
        school_id=cast.outsider.actor.school_id,
        person_id=cast.instructor.actor.person_id,
        role="storekeeper",
    )


def test_a_count_can_not_be_kept_for_another_schools_item(engine: Engine, cast: Cast) -> None:
    with engine.execution_options(begin="IMMEDIATE").connect() as connection:
        kept = connection.execute(select(KitCount.__table__).limit(1)).mappings().one()
        moved = {**kept, "school_id": cast.outsider.actor.school_id, "id": kept["id"] + 1000}
        with pytest.raises(IntegrityError):
            connection.execute(insert(KitCount).values(moved))


def assert_refused(engine: Engine, table: type[Base], **values: object) -> None:
    with (
        engine.execution_options(begin="IMMEDIATE").connect() as connection,
        pytest.raises(IntegrityError, match=r"(?i)foreign key"),
    ):
        connection.execute(insert(table).values(values))
