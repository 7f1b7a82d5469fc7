"""What migrations make of the rows that a school has had for long."""

from sqlalchemy import Engine, text

from coursekit.store.engine import migrate, migrate_down

SCHOOL = "INSERT INTO schools VALUES (1, 'Fernbank', 'Europe/London', 'en', '2026-01-01 08:00')"
PERSON = (
    "INSERT INTO people (id, school_id, name, sign_in_name, created_at) "
    "VALUES ({id}, 1, '{name}', '{name}', '2026-01-01 08:00')"
)
ROLE = "INSERT INTO person_roles VALUES (1, {id}, '{role}')"
STAFF = ((1, "tobin", "storekeeper"), (2, "mara", "instructor"), (3, "ines", "instructor"))


def _filled(engine: Engine) -> None:
    with engine.execution_options(begin="IMMEDIATE").begin() as connection:
        connection.exec_driver_sql(SCHOOL)
        for id_, name, role in STAFF:
            connection.exec_driver_sql(PERSON.format(id=id_, name=name))
            connection.exec_driver_sql(ROLE.format(id=id_, role=role))


def _heads(engine: Engine) -> list[int]:
    with engine.connect() as connection:
        found = connection.execute(text("SELECT person_id FROM person_roles WHERE role = 'head'"))
        return list(found.scalars())


def test_the_first_instructor_of_a_school_becomes_its_head(bare_engine: Engine) -> None:
    migrate(bare_engine, "r0006")
    _filled(bare_engine)

    migrate(bare_engine, "r0007")
    assert _heads(bare_engine) == [2]

    migrate_down(bare_engine, "r0006")
    assert _heads(bare_engine) == []
