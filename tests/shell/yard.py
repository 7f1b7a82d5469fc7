"""A class with a yard list: the cast's scenario with a list, in a class of its own."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from coursekit.services import accounts, answering, preparing, teaching, yard
from coursekit.services.accounts import Credentials, NewPerson
from coursekit.services.actor import Actor, Role
from coursekit.services.answering import Join
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.services.yard import Noted
from coursekit.store.unit import Unit
from tests.cast import PASSWORD, Cast
from tests.shell.files.ford import FILE, FORD

YARD = """
yard:
  - id: brief
    title: Brief the team
    criteria:
      - {id: stop-word, text: Names the stop word, critical: true}
      - {id: roles, text: Gives everybody a place}
  - id: pull
    title: Pull
    criteria:
      - {id: slow, text: Pulls without a jerk, marks: 2}
"""
PASS_MARK = "pass: 75 %\n"
CRITERIA = ("brief.stop-word", "brief.roles", "pull.slow")


@dataclass(frozen=True)
class YardWorld:
    """Ana in a class whose scenario has a yard list; Mara and Rowan may both mark it."""

    mara: Actor
    rowan: Actor
    student: Actor
    class_id: int
    enrolment_id: int
    place: int


def yard_world(
    unit: Unit, cast: Cast, folder: Path, now: datetime, *, names_pass: bool = True
) -> YardWorld:
    """Make the class, and a second instructor; the pass mark may be left to the school."""
    mara = cast.instructor.actor
    path = folder / FILE
    ford = FORD if names_pass else FORD.replace(PASS_MARK, "")
    path.write_text(ford + YARD, encoding="utf-8")
    preparing.load_scenarios(unit, mara, [path], now)
    version_id = preparing.list_scenarios(unit, mara)[0].version_id
    new_class = NewClass(cast.course_id, "Yard group", now.date())
    class_id = teaching.create_class(unit, mara, new_class, now)
    teaching.choose_scenarios(unit, mara, ScenarioChoice(class_id, (version_id,), seen=1))
    code = teaching.open_class(unit, mara, class_id, now)
    joined = answering.join_class(unit, Join(code, "Ana Lim"), now)
    new = NewPerson("Rowan Pike", "rowan", PASSWORD, frozenset({Role.INSTRUCTOR}))
    accounts.add_person(unit, mara, new, now)
    rowan = accounts.sign_in(unit, Credentials("rowan", PASSWORD, None), now).person.actor
    (place,) = yard.yard_of_class(unit, mara, class_id).places
    return YardWorld(
        mara, rowan, joined.person.actor, class_id, place.student.enrolment_id,
        place.class_scenario_id,
    )  # fmt: skip


def mark_all(unit: Unit, world: YardWorld, who: Actor, levels: str, now: datetime) -> None:
    """Note the levels of all criteria, as digits, and hand the list in."""
    for name, level in zip(CRITERIA, levels, strict=True):
        key = f"{who.person_id}-{name}-{level}".replace(".", "-")
        noted = Noted(world.enrolment_id, world.place, name, int(level), "", key)
        yard.note(unit, who, noted, now)
    yard.hand_in(unit, who, world.enrolment_id, world.place, now)
