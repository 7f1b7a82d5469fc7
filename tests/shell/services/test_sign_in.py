"""Signing in, staying in, and being out for good."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from argon2 import extract_parameters
from sqlalchemy import select, text

from coursekit.problems import Problems
from coursekit.services import accounts
from coursekit.services.accounts import Credentials, NewPerson, PasswordChange
from coursekit.services.actor import Role
from coursekit.services.errors import Refused, RoleNeeded, SignInFailed, TooManyTries
from coursekit.store.tables import Person
from coursekit.store.unit import Unit
from tests.cast import PASSWORD, Cast

OTHER = "saddle thimble quarry"
MARA = Credentials("mara quint", PASSWORD)
WRONG = replace(MARA, password="not the password")  # noqa: S106  it opens nothing


def test_a_token_tells_who_it_is(unit: Unit, cast: Cast, now: datetime) -> None:
    person = accounts.person_of(unit, cast.instructor.token, now)

    assert person is not None
    assert person.actor == cast.instructor.actor
    assert person.name == "Mara Quint"
    assert person.school.name == "Fernbank Recovery School"
    assert (person.enrolment_id, person.class_id) == (None, None)


def test_a_students_token_tells_the_class_too(unit: Unit, cast: Cast, now: datetime) -> None:
    person = accounts.person_of(unit, cast.student.token, now)

    assert person is not None
    assert person.class_id == cast.class_id
    assert person.enrolment_id is not None


@pytest.mark.parametrize("token", ["", "x", "' OR 1=1 --"])
def test_a_token_that_is_not_known_is_nobodys(unit: Unit, now: datetime, token: str) -> None:
    assert accounts.person_of(unit, token, now) is None


@pytest.mark.parametrize("name", ["Mara Quint", "  MARA   quint "])
def test_capitals_and_blanks_make_no_other_name(unit: Unit, now: datetime, name: str) -> None:
    assert accounts.sign_in(unit, replace(MARA, sign_in_name=name), now).person.name == "Mara Quint"


@pytest.mark.parametrize(
    "credentials", [WRONG, replace(WRONG, sign_in_name="nobody"), replace(MARA, school_id=2)]
)
def test_a_wrong_name_or_password_is_refused_alike(
    unit: Unit, now: datetime, credentials: Credentials
) -> None:
    with pytest.raises(SignInFailed) as refused:
        accounts.sign_in(unit, credentials, now)

    assert str(refused.value) == "Name and password don't go together. Check both and try again."


def test_blanks_around_a_password_count(unit: Unit, now: datetime) -> None:
    with pytest.raises(SignInFailed):
        accounts.sign_in(unit, replace(MARA, password=f"{PASSWORD} "), now)


def test_where_two_schools_know_a_name_the_school_is_asked_for(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    idris = cast.outsider.actor
    namesake = NewPerson("Mara Quint", "mara quint", OTHER, frozenset({Role.INSTRUCTOR}))
    accounts.add_person(unit, idris, namesake, now)

    with pytest.raises(SignInFailed):
        accounts.sign_in(unit, MARA, now)
    there = replace(MARA, password=OTHER, school_id=idris.school_id)
    assert accounts.sign_in(unit, there, now).person.school.name == "Northway Recovery School"


def test_signing_out_ends_the_device_and_no_other(unit: Unit, now: datetime) -> None:
    phone = accounts.sign_in(unit, MARA, now).token
    laptop = accounts.sign_in(unit, MARA, now).token
    accounts.sign_out(unit, phone, now)

    assert accounts.person_of(unit, phone, now) is None
    assert accounts.person_of(unit, laptop, now) is not None


def test_signing_out_everywhere_ends_every_device_of_the_person(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    phone = accounts.sign_in(unit, MARA, now).token
    ended = accounts.sign_out_everywhere(unit, cast.instructor.actor, now)

    assert ended == 2
    assert accounts.person_of(unit, phone, now) is None
    assert accounts.person_of(unit, cast.instructor.token, now) is None
    assert accounts.person_of(unit, cast.storekeeper.token, now) is not None


def test_a_sign_in_that_idles_too_long_is_over(unit: Unit, cast: Cast, now: datetime) -> None:
    soon, late = now + accounts.IDLE_AFTER, now + accounts.IDLE_AFTER + timedelta(seconds=1)

    assert accounts.person_of(unit, cast.storekeeper.token, late) is None
    assert accounts.person_of(unit, cast.storekeeper.token, soon) is not None


def test_a_sign_in_that_is_used_lasts_until_its_end_and_no_longer(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    token = cast.instructor.token
    for hours in range(15):
        assert accounts.person_of(unit, token, now + timedelta(hours=hours)) is not None

    assert accounts.person_of(unit, token, now + accounts.SIGN_IN_LASTS) is None


def test_a_right_password_is_taken_after_hundreds_of_wrong_ones(unit: Unit, now: datetime) -> None:
    at, refused = now, 0
    for _ in range(200):
        at += timedelta(seconds=20)
        try:
            accounts.sign_in(unit, WRONG, at)
        except TooManyTries:
            refused += 1
        except SignInFailed:
            continue
    signed_in = accounts.sign_in(unit, MARA, at + timedelta(minutes=1))

    assert signed_in.person.name == "Mara Quint"
    assert refused > 100


def test_waiting_gets_longer_with_every_failure_up_to_a_minute(unit: Unit, now: datetime) -> None:
    at, waits = now, []
    for _ in range(30):
        try:
            accounts.sign_in(unit, WRONG, at)
        except TooManyTries as refused:
            waits.append(refused.wait.total_seconds())
            at += refused.wait
        except SignInFailed:
            continue

    assert waits == [1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 60.0, 60.0, 60.0, 60.0, 60.0, 60.0]


def test_no_password_code_or_token_is_kept_as_it_is(unit: Unit, cast: Cast) -> None:
    with unit.read() as session:
        kept = [
            str(value)
            for table in ("people", "sign_ins", "enrolments")
            for row in session.execute(text(f"SELECT * FROM {table}"))
            for value in row
        ]

    secrets = (PASSWORD, cast.return_code, cast.instructor.token, cast.student.token)
    assert not set(kept) & set(secrets)


@pytest.mark.source(
    "OWASP Password Storage Cheat Sheet: Argon2id, 19 MiB of memory, 2 iterations, 1 lane"
)
def test_passwords_are_hashed_as_owasp_advises(unit: Unit, cast: Cast) -> None:
    with unit.read() as session:
        kept = session.scalar(
            select(Person.password_hash).where(Person.id == cast.instructor.actor.person_id)
        )

    assert kept is not None
    used = extract_parameters(kept)
    assert kept.startswith("$argon2id$")
    assert (used.memory_cost, used.time_cost, used.parallelism) == (19 * 1024, 2, 1)


def test_a_new_password_ends_every_other_device(unit: Unit, cast: Cast, now: datetime) -> None:
    phone = accounts.sign_in(unit, MARA, now).token
    change = PasswordChange(phone, PASSWORD, OTHER)
    accounts.change_password(unit, cast.instructor.actor, change, now)

    assert accounts.person_of(unit, phone, now) is not None
    assert accounts.person_of(unit, cast.instructor.token, now) is None
    with pytest.raises(SignInFailed):
        accounts.sign_in(unit, MARA, now)
    assert accounts.sign_in(unit, replace(MARA, password=OTHER), now).person.name == "Mara Quint"


def test_a_new_password_needs_the_old_one_and_must_be_good(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara, token = cast.instructor.actor, cast.instructor.token
    with pytest.raises(Refused, match="old password"):
        accounts.change_password(unit, mara, PasswordChange(token, "wrong", OTHER), now)
    with pytest.raises(Problems, match="new"):
        accounts.change_password(unit, mara, PasswordChange(token, PASSWORD, "short"), now)

    assert accounts.sign_in(unit, MARA, now).person.actor == mara


def test_the_head_adds_people_and_sees_them(unit: Unit, cast: Cast, now: datetime) -> None:
    new = NewPerson("Ines Roe", "Ines", OTHER, frozenset({Role.STOREKEEPER, Role.INSTRUCTOR}))
    accounts.add_person(unit, cast.instructor.actor, new, now)

    found = {row.name: row.roles for row in accounts.people(unit, cast.instructor.actor)}
    assert found == {
        "Mara Quint": ("head", "instructor", "storekeeper"),
        "Tobin Hale": ("storekeeper",),
        "Ines Roe": ("instructor", "storekeeper"),
    }


def test_a_sign_in_name_is_given_once(unit: Unit, cast: Cast, now: datetime) -> None:
    again = NewPerson("Another", "TOBIN hale", OTHER, frozenset({Role.STOREKEEPER}))
    with pytest.raises(Problems, match="sign_in_name: Somebody has it already"):
        accounts.add_person(unit, cast.instructor.actor, again, now)


@pytest.mark.parametrize("roles", [frozenset(), frozenset({Role.STUDENT})])
def test_staff_have_a_role_of_staff(
    unit: Unit, cast: Cast, now: datetime, roles: frozenset[Role]
) -> None:
    with pytest.raises(Problems, match="roles"):
        accounts.add_person(unit, cast.instructor.actor, NewPerson("A", "a", OTHER, roles), now)


def test_only_the_head_adds_people(unit: Unit, cast: Cast, now: datetime) -> None:
    new = NewPerson("Ines Roe", "ines", OTHER, frozenset({Role.STOREKEEPER}))
    for member in (cast.storekeeper, cast.student):
        with pytest.raises(RoleNeeded):
            accounts.add_person(unit, member.actor, new, now)
