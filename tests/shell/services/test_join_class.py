"""Joining a class with its code, and coming back to it."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from coursekit.problems import Problems
from coursekit.services import accounts, answering, teaching
from coursekit.services.actor import Role
from coursekit.services.answering import Join, Return
from coursekit.services.errors import Refused, SignInFailed, TooManyTries
from coursekit.services.passwords import CODE_LETTERS
from coursekit.store.unit import Unit
from tests.cast import Cast


def test_a_code_and_a_name_are_all_it_takes(unit: Unit, cast: Cast, now: datetime) -> None:
    joined = answering.join_class(unit, Join(cast.join_code, "Bo Ferris"), now)
    person = accounts.person_of(unit, joined.token, now)

    assert person == joined.person
    assert person is not None
    assert person.actor.roles == {Role.STUDENT}
    assert person.class_id == cast.class_id


def test_a_code_is_read_as_it_is_meant(unit: Unit, cast: Cast, now: datetime) -> None:
    spaced = f" {cast.join_code[:4].lower()}-{cast.join_code[4:].lower()} "

    assert answering.join_class(unit, Join(spaced, "Bo"), now).person.name == "Bo"


def test_a_code_has_eight_letters_that_nobody_misreads(cast: Cast) -> None:
    assert len(cast.join_code) == 8
    assert set(cast.join_code) <= set(CODE_LETTERS)
    assert len(CODE_LETTERS) == 32
    assert not set("ILOU") & set(CODE_LETTERS)


def test_the_page_behind_the_code_says_which_class_it_is(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    brief = answering.class_of_code(unit, cast.join_code, now)

    assert (brief.title, brief.course, brief.school) == (
        "Saturday group",
        "Winch basics",
        "Fernbank Recovery School",
    )


@pytest.mark.parametrize("code", ["", "00000000", "x" * 500, "' OR 1=1 --"])
def test_a_wrong_code_opens_nothing(unit: Unit, now: datetime, code: str) -> None:
    with pytest.raises(Refused, match="opens no class now"):
        answering.join_class(unit, Join(code, "Bo"), now)
    with pytest.raises(Refused, match="opens no class now"):
        answering.class_of_code(unit, code, now)


def test_a_code_dies_with_its_class(unit: Unit, cast: Cast, now: datetime) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)

    with pytest.raises(Refused, match="opens no class now"):
        answering.join_class(unit, Join(cast.join_code, "Bo"), now)


@pytest.mark.parametrize("name", ["Ana Lim", "ana  lim", " ANA LIM"])
def test_a_name_is_taken_once_in_a_class(unit: Unit, cast: Cast, now: datetime, name: str) -> None:
    with pytest.raises(Problems, match="come back with your return code"):
        answering.join_class(unit, Join(cast.join_code, name), now)


@pytest.mark.parametrize("name", ["", "   ", "x" * 121, "Ana\x00"])
def test_a_name_must_be_one(unit: Unit, cast: Cast, now: datetime, name: str) -> None:
    with pytest.raises(Problems, match="name"):
        answering.join_class(unit, Join(cast.join_code, name), now)


def test_a_student_comes_back_on_another_phone(unit: Unit, cast: Cast, now: datetime) -> None:
    again = Return(cast.join_code, "ana lim", cast.return_code.lower())
    back = answering.return_to_class(unit, again, now)

    assert back.person.actor == cast.student.actor
    assert back.token != cast.student.token
    assert accounts.person_of(unit, cast.student.token, now) is not None


@pytest.mark.parametrize(("name", "code"), [("Ana Lim", "000000"), ("Nobody", "000000")])
def test_a_wrong_return_code_or_name_is_refused_alike(
    unit: Unit, cast: Cast, now: datetime, name: str, code: str
) -> None:
    with pytest.raises(SignInFailed):
        answering.return_to_class(unit, Return(cast.join_code, name, code), now)


def test_guessing_a_return_code_gets_slow(unit: Unit, cast: Cast, now: datetime) -> None:
    wrong = Return(cast.join_code, "Ana Lim", cast.return_code[:4] + "00000000")
    for _ in range(6):
        with pytest.raises(SignInFailed):
            answering.return_to_class(unit, wrong, now)

    with pytest.raises(TooManyTries):
        answering.return_to_class(unit, replace(wrong, return_code=cast.return_code), now)
    later = now + timedelta(minutes=1)
    right = replace(wrong, return_code=cast.return_code)
    assert answering.return_to_class(unit, right, later).person.name == "Ana Lim"


def test_guessing_join_codes_from_one_place_gets_slow_and_hinders_no_other(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    guess = Join("00000000", "Bo", client="198.51.100.7")
    for _ in range(41):
        with pytest.raises(Refused, match="opens no class"):
            answering.join_class(unit, guess, now)

    with pytest.raises(TooManyTries):
        answering.join_class(unit, guess, now)
    elsewhere = Join(cast.join_code, "Bo", client="198.51.100.8")
    assert answering.join_class(unit, elsewhere, now).person.name == "Bo"


def test_a_whole_class_behind_one_address_gets_in(unit: Unit, cast: Cast, now: datetime) -> None:
    for number in range(45):
        join = Join(cast.join_code, f"Student {number}", client="198.51.100.7")
        answering.join_class(unit, join, now)

    assert answering.class_of_code(unit, cast.join_code, now).title == "Saturday group"
