"""An instructor of another school sees nothing of this one, and changes nothing in it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from sqlalchemy import text

from coursekit.services import (
    accounting,
    accounts,
    answering,
    inspecting,
    kit,
    kit_files,
    preparing,
    pulls,
    register,
    schools,
    staffing,
    teaching,
)
from coursekit.services.actor import Actor, Role
from coursekit.services.answering import TypedAnswer
from coursekit.services.class_now import class_now
from coursekit.services.errors import NotFound
from coursekit.services.kit import Change, Correction, Retirement
from coursekit.services.kit_files import FileKind, NewFile, Removal
from coursekit.services.pull_desk import DeclaredPull
from coursekit.services.register import NewItem
from coursekit.services.staffing import FirstPassword, Roles
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store.filing import Filing
from coursekit.store.tables import Base
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.looks import examined
from tests.shell.classroom import handed_in, pulled, rig_pull
from tests.shell.files.pictures import PDF

Act = Callable[[Unit, Actor, Cast], object]

# A file that is another school's is refused before its place on the disk is looked for.
NO_DISK = Filing(Path("/nonexistent"))

# Each look-up of one thing by its id, each act on one: all with ids of another school.
BY_ID: dict[str, Act] = {
    "class_now": lambda unit, who, cast: class_now(unit, who, cast.class_id),
    "choose": lambda unit, who, cast: teaching.choose_scenarios(
        unit, who, ScenarioChoice(cast.class_id, (), 1)
    ),
    "open": lambda unit, who, cast: teaching.open_class(unit, who, cast.class_id, NOW),
    "close": lambda unit, who, cast: teaching.close_class(unit, who, cast.class_id, NOW),
    "create class": lambda unit, who, cast: teaching.create_class(
        unit, who, NewClass(cast.course_id, "x", NOW.date()), NOW
    ),
    "version": lambda unit, who, cast: preparing.scenario_version(unit, who, cast.version_id),
    "life": lambda unit, who, cast: kit.item_life(unit, who, cast.items["Bow 1"], NOW.date()),
    "quarantine": lambda unit, who, cast: kit.quarantine(unit, who, change(cast), NOW),
    "release": lambda unit, who, cast: kit.release(unit, who, change(cast), NOW),
    "inspect": lambda unit, who, cast: inspecting.inspect(
        unit, who, examined("bow-shackle", cast.items["Bow 1"], 2, "inspect-1"), NOW
    ),
    "retire": lambda unit, who, cast: kit.retire(
        unit, who, Retirement(cast.items["Bow 1"], 2, "a", "b", 1, "retire-1"), NOW
    ),
    "correct": lambda unit, who, _cast: kit.correct(
        unit, who, Correction(1, "a", "correct-1"), NOW
    ),
    "file": lambda unit, who, _cast: kit_files.give_file(unit, NO_DISK, who, 1),
    "add file": lambda unit, who, cast: kit_files.add_file(unit, NO_DISK, who, proof_of(cast), NOW),
    "remove file": lambda unit, who, _cast: kit_files.remove_file(
        unit, NO_DISK, who, Removal(1, "x"), NOW
    ),
    "register item": lambda unit, who, _cast: register.register_item(
        unit, who, NewItem(1, "Bow 99"), NOW
    ),
    "rig items": lambda unit, who, cast: pulls.rig_items(
        unit, who, cast.version_id, "given", NOW.date()
    ),
    "rig pull": lambda unit, who, cast: pulls.record_rig_pull(unit, who, rig_pull(cast), NOW),
    "declared pull": lambda unit, who, cast: pulls.record_declared_pull(
        unit,
        who,
        DeclaredPull(
            cast.class_id, cast.items["Rope 1"], "kinetic", "light", "came-free", "pull-0009"
        ),
        NOW,
    ),
    "pull report": lambda unit, who, _cast: pulls.pull_report(unit, who, 1),
    "attempt": lambda unit, who, _cast: answering.attempt_view(unit, who, 1),
    "result": lambda unit, who, _cast: answering.result_view(unit, who, 1),
    "my class": lambda unit, who, _cast: answering.my_class(unit, student(who)),
    "start": lambda unit, who, cast: answering.start_attempt(
        unit, student(who), cast.class_scenario_id, NOW
    ),
    "answer": lambda unit, who, _cast: answering.save_answer(
        unit, student(who), TypedAnswer(1, "total", "1 kN", "key-00001"), NOW
    ),
    "roles": lambda unit, who, cast: staffing.change_roles(
        unit, who, Roles(cast.storekeeper.actor.person_id, frozenset({Role.INSTRUCTOR}))
    ),
    "first password": lambda unit, who, cast: staffing.give_password(
        unit, who, FirstPassword(cast.storekeeper.actor.person_id, "puddle anchor velvet moss"), NOW
    ),
    "let in no more": lambda unit, who, cast: staffing.end_person(
        unit, who, cast.storekeeper.actor.person_id, NOW
    ),
    "hand in": lambda unit, who, _cast: answering.submit_attempt(unit, student(who), 1, NOW),
}


def change(cast: Cast) -> Change:
    return Change(cast.items["Bow 1"], 2, "x", "change-1")


def proof_of(cast: Cast) -> NewFile:
    return NewFile(cast.items["Bow 1"], FileKind.CERTIFICATE, "proof.pdf", PDF)


def student(who: Actor) -> Actor:
    """Return the same person as a student of the same school."""
    return replace(who, roles=frozenset({Role.STUDENT}))


def everything(unit: Unit) -> dict[str, list[tuple[object, ...]]]:
    with unit.read() as session:
        return {
            name: [tuple(row) for row in session.execute(text(f"SELECT * FROM {name} ORDER BY 1"))]
            for name in Base.metadata.tables
        }


@pytest.fixture
def lived_in(unit: Unit, cast: Cast, now: datetime, tmp_path: Path) -> Unit:
    """A school with an attempt, a result, a pull and a file to be found."""
    kit_files.add_file(unit, Filing(tmp_path), cast.storekeeper.actor, proof_of(cast), now)
    handed_in(unit, cast, now)
    pulled(unit, cast, now)
    return unit


@pytest.mark.parametrize("act", BY_ID.values(), ids=BY_ID)
def test_what_is_another_schools_is_not_found_and_stays_as_it_is(
    lived_in: Unit, cast: Cast, act: Act
) -> None:
    before = everything(lived_in)
    with pytest.raises(NotFound):
        act(lived_in, cast.outsider.actor, cast)

    assert everything(lived_in) == before


def test_every_list_of_another_school_is_empty(lived_in: Unit, cast: Cast, now: datetime) -> None:
    idris = cast.outsider.actor

    assert teaching.courses(lived_in, idris) == ()
    assert teaching.classes(lived_in, idris) == ()
    assert preparing.list_scenarios(lived_in, idris) == ()
    assert kit.list_items(lived_in, idris, now.date()) == ()
    assert kit.retirement_count(lived_in, idris) == ()
    assert register.kit_types(lived_in, idris) == ()
    assert pulls.pulls_of_class(lived_in, idris, cast.class_id) == ()
    assert accounting.verify(lived_in, idris).entries == 0
    assert [person.name for person in accounts.people(lived_in, idris)] == ["Idris Vale"]
    assert schools.school_of(lived_in, idris).name == "Northway Recovery School"


def test_the_instructor_of_the_school_finds_it_all(
    lived_in: Unit, cast: Cast, now: datetime
) -> None:
    mara = cast.instructor.actor

    assert class_now(lived_in, mara, cast.class_id).pulls
    assert kit.list_items(lived_in, mara, now.date())
    assert answering.result_view(lived_in, mara, 1).tasks
    assert pulls.pull_report(lived_in, mara, 1).lines
