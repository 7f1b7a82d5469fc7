"""The first visit sets up a school and its first instructor."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import datetime

import pytest

from coursekit.problems import Problems
from coursekit.services import accounts, schools
from coursekit.services.accounts import Credentials
from coursekit.services.actor import Role
from coursekit.services.errors import Refused
from coursekit.services.schools import NewSchool
from coursekit.store.unit import Unit
from tests.cast import PASSWORD

FERNBANK = NewSchool(
    name="Fernbank Recovery School",
    timezone="Europe/London",
    locale="en",
    instructor_name="Mara Quint",
    sign_in_name="Mara Quint",
    password=PASSWORD,
)


def test_a_new_database_has_no_school_and_no_way_in(empty_unit: Unit, now: datetime) -> None:
    assert not schools.is_set_up(empty_unit)
    with pytest.raises(Refused):
        accounts.sign_in(empty_unit, Credentials("admin", "admin"), now)


def test_the_first_person_teaches_keeps_the_store_and_heads_the_school(
    empty_unit: Unit, now: datetime
) -> None:
    actor = schools.set_up_school(empty_unit, FERNBANK, now)

    assert schools.is_set_up(empty_unit)
    assert actor.roles == {Role.INSTRUCTOR, Role.STOREKEEPER, Role.HEAD}
    assert schools.school_of(empty_unit, actor).name == "Fernbank Recovery School"
    signed_in = accounts.sign_in(empty_unit, Credentials("mara quint", PASSWORD), now)
    assert signed_in.person.actor == actor


def test_a_school_is_set_up_once(empty_unit: Unit, now: datetime) -> None:
    schools.set_up_school(empty_unit, FERNBANK, now)

    with pytest.raises(Refused, match="set up already"):
        schools.set_up_school(empty_unit, FERNBANK, now)


def test_of_two_first_visits_at_once_one_sets_the_school_up(
    empty_unit: Unit, now: datetime
) -> None:
    def visit(number: int) -> bool:
        try:
            schools.set_up_school(empty_unit, replace(FERNBANK, name=f"School {number}"), now)
        except Refused:
            return False
        return True

    with ThreadPoolExecutor(4) as visitors:
        outcomes = list(visitors.map(visit, range(4)))

    assert outcomes.count(True) == 1
    assert len(schools.schools(empty_unit)) == 1


def test_all_that_is_wrong_is_told_at_once(empty_unit: Unit, now: datetime) -> None:
    wrong = NewSchool(" ", "Mars/Olympus", "klingon!", "", "\x00", "short")
    with pytest.raises(Problems) as problems:
        schools.set_up_school(empty_unit, wrong, now)

    fields = [problem.where.field for problem in problems.value.items]
    assert fields == [
        "sign_in_name",
        "name",
        "timezone",
        "locale",
        "instructor_name",
        "password",
    ]
    assert not schools.is_set_up(empty_unit)


@pytest.mark.parametrize(
    "password", ["", "elevenchars", "aaaaaaaaaaaaaaaa", "mara quint mara", "x" * 1_001]
)
def test_a_password_that_is_easy_to_guess_is_refused(
    empty_unit: Unit, now: datetime, password: str
) -> None:
    with pytest.raises(Problems, match="password"):
        schools.set_up_school(empty_unit, replace(FERNBANK, password=password), now)
