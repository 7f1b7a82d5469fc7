"""Coming back when the class is closed: to read marks and to practise, and to nothing else."""

from datetime import datetime, timedelta

import pytest
from sqlalchemy import update

from coursekit.problems import CoursekitError
from coursekit.services import accounts, answering, practising, teaching
from coursekit.services.answering import Return, TypedAnswer
from coursekit.services.errors import Refused, SignInFailed, TooManyTries
from coursekit.services.passwords import hashed
from coursekit.store import tables
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import handed_in, started

SHORT_CODE = "7Q2KXM"


def card(cast: Cast, return_code: str = "") -> Return:
    return Return("", "Ana Lim", return_code or cast.return_code)


def an_older_card(unit: Unit, cast: Cast) -> None:
    """Make Ana's card one of those that had six letters."""
    with unit.write() as session:
        session.execute(
            update(tables.Enrolment)
            .where(tables.Enrolment.person_id == cast.student.actor.person_id)
            .values(return_tag=None, return_code_hash=hashed(SHORT_CODE))
        )


def test_a_week_after_the_class_the_card_alone_opens_marks_and_practice(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = handed_in(unit, cast, now)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    later = now + timedelta(days=7)
    assert accounts.person_of(unit, cast.student.token, later) is None

    back = answering.return_to_class(unit, card(cast), later)

    assert back.person.actor == cast.student.actor
    assert answering.result_view(unit, back.person.actor, attempt_id).student == "Ana Lim"
    assert practising.my_practice(unit, back.person.actor, later).skills


def test_the_card_opens_nothing_that_the_closed_class_keeps_shut(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = started(unit, cast, now)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    back = answering.return_to_class(unit, card(cast), now + timedelta(days=1)).person.actor

    with pytest.raises(Refused, match="class is closed"):
        answering.save_answer(unit, back, TypedAnswer(attempt_id, "go", "go", "late-answer"), now)
    with pytest.raises(Refused, match="class is closed"):
        answering.submit_attempt(unit, back, attempt_id, now)


def test_while_the_class_is_open_the_card_needs_no_join_code(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    assert answering.return_to_class(unit, card(cast), now).person.class_id == cast.class_id


def test_an_older_card_works_with_the_join_code_while_the_class_is_open(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    an_older_card(unit, cast)
    both = Return(cast.join_code, "Ana Lim", SHORT_CODE)

    assert answering.return_to_class(unit, both, now).person.name == "Ana Lim"
    with pytest.raises(SignInFailed):
        answering.return_to_class(unit, card(cast, SHORT_CODE), now)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    with pytest.raises(Refused, match="opens no class now"):
        answering.return_to_class(unit, both, now)


@pytest.mark.parametrize("name", ["Bo Ferris", "Ana", ""])
def test_the_code_without_its_name_is_refused(
    unit: Unit, cast: Cast, now: datetime, name: str
) -> None:
    with pytest.raises(CoursekitError, match=r"(?i)name"):
        answering.return_to_class(unit, Return("", name, cast.return_code), now)


def test_a_code_has_sixty_random_bits_of_which_forty_are_hashed_only(
    unit: Unit, cast: Cast
) -> None:
    with unit.read() as session:
        row = session.get_one(tables.Enrolment, 1)

    assert len(cast.return_code) == 12
    assert row.return_tag == cast.return_code[:4]
    assert cast.return_code[4:] not in row.return_code_hash


def test_five_wrong_codes_at_speed_make_the_next_wait(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    wrong = card(cast, cast.return_code[:4] + "ZZZZZZZZ")
    for _ in range(6):
        with pytest.raises(SignInFailed):
            answering.return_to_class(unit, wrong, now)

    with pytest.raises(TooManyTries):
        answering.return_to_class(unit, card(cast), now)
    assert answering.return_to_class(unit, card(cast), now + timedelta(minutes=1)).token


def test_guesses_at_many_cards_from_one_place_get_slow(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    def guess(number: int) -> Return:
        return Return("", "Ana Lim", f"{number:04}ZZZZZZZZ", client="198.51.100.7")

    for number in range(41):
        with pytest.raises(SignInFailed):
            answering.return_to_class(unit, guess(number), now)
    with pytest.raises(TooManyTries):
        answering.return_to_class(unit, guess(99), now)
