"""The head says who may do what; a school is never left without a head."""

from datetime import datetime

import pytest

from coursekit.problems import Problems
from coursekit.services import accounts, staffing
from coursekit.services.accounts import Credentials
from coursekit.services.actor import Role
from coursekit.services.errors import NotFound, Refused, RoleNeeded, SignInFailed
from coursekit.services.staffing import FirstPassword, Roles
from coursekit.store.unit import Unit
from tests.cast import PASSWORD, Cast

OTHER = "puddle anchor velvet moss"
BOTH = frozenset({Role.STOREKEEPER, Role.INSTRUCTOR})


def roles_of(unit: Unit, cast: Cast, name: str) -> set[str]:
    rows = accounts.people(unit, cast.instructor.actor)
    return set(next(row.roles for row in rows if row.name == name))


def test_new_roles_hold_from_the_next_request(unit: Unit, cast: Cast, now: datetime) -> None:
    tobin = cast.storekeeper
    change = Roles(tobin.actor.person_id, BOTH)
    staffing.change_roles(unit, cast.instructor.actor, change)

    person = accounts.person_of(unit, tobin.token, now)
    assert person is not None
    assert person.actor.roles == BOTH


def test_the_last_head_keeps_the_role(unit: Unit, cast: Cast, now: datetime) -> None:
    mara = cast.instructor.actor
    with pytest.raises(Refused, match="Mara Quint is the school's only head"):
        staffing.change_roles(unit, mara, Roles(mara.person_id, BOTH))
    with pytest.raises(Refused, match="only head"):
        staffing.end_person(unit, mara, mara.person_id, now)

    assert Role.HEAD in roles_of(unit, cast, "Mara Quint")


def test_with_a_second_head_the_first_may_stop(unit: Unit, cast: Cast, now: datetime) -> None:
    mara, tobin = cast.instructor.actor, cast.storekeeper.actor
    staffing.change_roles(unit, mara, Roles(tobin.person_id, frozenset({Role.HEAD})))
    staffing.end_person(unit, mara, mara.person_id, now)

    with pytest.raises(Refused, match="only head"):
        staffing.end_person(unit, mara, tobin.person_id, now)


def test_a_head_who_has_left_is_no_head(unit: Unit, cast: Cast, now: datetime) -> None:
    mara, tobin = cast.instructor.actor, cast.storekeeper.actor
    staffing.change_roles(unit, mara, Roles(tobin.person_id, frozenset({Role.HEAD})))
    staffing.end_person(unit, mara, tobin.person_id, now)

    with pytest.raises(Refused, match="only head"):
        staffing.change_roles(unit, mara, Roles(mara.person_id, BOTH))


def test_who_has_left_is_signed_out_and_let_in_no_more(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara, tobin = cast.instructor.actor, cast.storekeeper
    staffing.end_person(unit, mara, tobin.actor.person_id, now)

    assert accounts.person_of(unit, tobin.token, now) is None
    with pytest.raises(SignInFailed):
        accounts.sign_in(unit, Credentials(tobin.sign_in_name, PASSWORD), now)
    left = staffing.one_of_staff(unit, mara, tobin.actor.person_id)
    assert (left.name, left.ended_at) == ("Tobin Hale", now)


def test_a_new_password_ends_older_sign_ins_and_lets_back_in(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara, tobin = cast.instructor.actor, cast.storekeeper
    staffing.end_person(unit, mara, tobin.actor.person_id, now)
    staffing.give_password(unit, mara, FirstPassword(tobin.actor.person_id, OTHER), now)

    assert accounts.person_of(unit, tobin.token, now) is None
    again = accounts.sign_in(unit, Credentials(tobin.sign_in_name, OTHER), now)
    assert again.person.actor == tobin.actor


def test_a_weak_password_and_no_role_are_told_beside_their_field(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara, tobin = cast.instructor.actor, cast.storekeeper.actor
    with pytest.raises(Problems, match="password"):
        staffing.give_password(unit, mara, FirstPassword(tobin.person_id, "short"), now)
    with pytest.raises(Problems, match="roles"):
        staffing.change_roles(unit, mara, Roles(tobin.person_id, frozenset()))


def test_only_a_head_changes_people_and_a_student_is_none_of_the_staff(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara, tobin, ana = (m.actor for m in (cast.instructor, cast.storekeeper, cast.student))
    with pytest.raises(RoleNeeded):
        staffing.change_roles(unit, tobin, Roles(tobin.person_id, BOTH))
    with pytest.raises(NotFound):
        staffing.end_person(unit, mara, ana.person_id, now)
