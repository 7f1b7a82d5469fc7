"""A failure at any statement of a service leaves everything as it was."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime

import pytest
from sqlalchemy import Engine, event, text

from coursekit.services import (
    accounting,
    accounts,
    answering,
    inspecting,
    issuing,
    kit,
    register,
    teaching,
)
from coursekit.services.accounts import PasswordChange
from coursekit.services.answering import Join
from coursekit.services.issuing import GiveBack, Issue
from coursekit.services.kit import Correction, Retirement
from coursekit.services.register import NewItem
from coursekit.services.teaching import NewClass
from coursekit.store.tables import Base
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.looks import examined
from tests.shell.classroom import ANSWERS, answer, pulled, started

Act = Callable[[Unit, Cast], object]
CHANGES = ("INSERT", "UPDATE", "DELETE")
# Counters of tries are written for themselves, before anything else.
APART = {"failed_tries"}
MOST_STATEMENTS = 60


class Failure(Exception):
    """Thrown in the middle of a service."""


@contextmanager
def failing_at(number: int) -> Iterator[None]:
    """Let the change of this number fail, those of the tries not counted."""
    seen = 0

    def count(_connection: object, _cursor: object, statement: str, *_rest: object) -> None:
        nonlocal seen
        if statement.lstrip().startswith(CHANGES) and "failed_tries" not in statement:
            seen += 1
            if seen == number:
                raise Failure

    event.listen(Engine, "before_cursor_execute", count)
    try:
        yield
    finally:
        event.remove(Engine, "before_cursor_execute", count)


def everything(unit: Unit) -> dict[str, list[tuple[object, ...]]]:
    with unit.read() as session:
        return {
            name: [tuple(row) for row in session.execute(text(f"SELECT * FROM {name} ORDER BY 1"))]
            for name in Base.metadata.tables
            if name not in APART
        }


def hand_in(unit: Unit, cast: Cast) -> None:
    answering.submit_attempt(unit, cast.student.actor, 1, NOW)


def retire(unit: Unit, cast: Cast) -> None:
    mara = cast.instructor.actor.person_id
    form = Retirement(cast.items["Sling 1"], 2, "cut", "cut in three", mara, "retire-1")
    kit.retire(unit, cast.storekeeper.actor, form, NOW)


def fail_an_inspection(unit: Unit, cast: Cast) -> None:
    form = examined("roundsling", cast.items["Sling 1"], 2, "inspect-1", found="cut")
    inspecting.inspect(unit, cast.storekeeper.actor, form, NOW)


def correct(unit: Unit, cast: Cast) -> None:
    life = kit.item_life(unit, cast.storekeeper.actor, cast.items["Sling 1"], NOW.date())
    wrong = Correction(life.lines[-1].entry_id, "the other sling", "correct-1")
    kit.correct(unit, cast.storekeeper.actor, wrong, NOW)


def register_item(unit: Unit, cast: Cast) -> None:
    new = NewItem(1, "Line 9", made=date(2026, 1, 1))
    register.register_item(unit, cast.storekeeper.actor, new, NOW)


def create_class(unit: Unit, cast: Cast) -> None:
    new = NewClass(cast.course_id, "Sunday group", NOW.date())
    teaching.create_class(unit, cast.instructor.actor, new, NOW)


def change_password(unit: Unit, cast: Cast) -> None:
    change = PasswordChange(cast.instructor.token, cast.password, "saddle thimble quarry")
    accounts.change_password(unit, cast.instructor.actor, change, NOW)


def issue_kit(unit: Unit, cast: Cast) -> None:
    items = (cast.items["Line 1"], cast.items["Bow 1"])
    issuing.issue(unit, cast.storekeeper.actor, Issue(cast.class_id, items, "issue-001"), NOW)


def give_back_kit(unit: Unit, cast: Cast) -> None:
    out = {cast.items["Ring 1"]: "mud", cast.items["Hook 1"]: "damage"}
    back = GiveBack(cast.class_id, out, {cast.items["Hook 1"]: "its latch sticks"}, "return-01")
    issuing.give_back(unit, cast.storekeeper.actor, back, NOW)


ACTS: dict[str, Act] = {
    "issue": issue_kit,
    "return": give_back_kit,
    "a pull": lambda unit, cast: pulled(unit, cast, NOW),
    "handing in": hand_in,
    "joining": lambda unit, cast: answering.join_class(unit, Join(cast.join_code, "Bo"), NOW),
    "retiring": retire,
    "a failed inspection": fail_an_inspection,
    "a correction": correct,
    "a new item": register_item,
    "a new class": create_class,
    "closing": lambda unit, cast: teaching.close_class(
        unit, cast.instructor.actor, cast.class_id, NOW
    ),
    "a new password": change_password,
}


@pytest.fixture
def ready(unit: Unit, cast: Cast, now: datetime) -> Unit:
    """A class in which an attempt is about to be handed in, with two items out."""
    answer(unit, cast, now, started(unit, cast, now), **ANSWERS)
    out = (cast.items["Ring 1"], cast.items["Hook 1"])
    issuing.issue(unit, cast.storekeeper.actor, Issue(cast.class_id, out, "issue-000"), now)
    return unit


@pytest.mark.parametrize("act", ACTS.values(), ids=ACTS)
def test_a_failure_at_any_statement_changes_nothing(ready: Unit, cast: Cast, act: Act) -> None:
    before = everything(ready)
    failed = 0
    for number in range(1, MOST_STATEMENTS):
        try:
            with failing_at(number):
                act(ready, cast)
        except Failure:
            failed += 1
            assert everything(ready) == before
        else:
            break

    assert failed == number - 1 > 0
    assert everything(ready) != before
    assert accounting.verify(ready, cast.storekeeper.actor).holds
