"""Making the demo school, once and whole; what was entered since is kept."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import select

from coursekit.services import accounts, issuing, planning, preparing, schools, teaching
from coursekit.services.accounts import NewPerson
from coursekit.services.actor import Actor, Role
from coursekit.services.demo.days import NOT_YET_OUT, PLANNED_TODAY
from coursekit.services.demo.group import fill_past_class
from coursekit.services.demo.moderation import moderate
from coursekit.services.demo.rules import set_rules
from coursekit.services.demo.year import Yard, live_a_year
from coursekit.services.issuing import Issue
from coursekit.services.kit_list import kit_list
from coursekit.services.passwords import matches
from coursekit.services.planning import NewPlan
from coursekit.services.schools import NewSchool
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store import tables
from coursekit.store.unit import Unit, Whole

DEMO_SCHOOL = "Fernhollow Recovery School"
INSTRUCTOR = "Wren Halloran"
SIGN_IN_NAME = "wren"
# The words open an invented school alone; without --demo there is no such account.
SIGN_IN_WORDS = "larch ferry cobalt anvil"
STOREKEEPER = "Juno Tarrant"
# The second instructor, so that somebody can look at the first one's marks.
SECOND = "Tamsin Orrey"
SECOND_SIGN_IN_NAME = "tamsin"
COURSE = "Vehicle recovery, first course"
OPEN_SCENARIOS = ("wash-road", "spur-track", "ford-exit", "dune-mouth", "culvert-edge")


@dataclass(frozen=True)
class Demo:
    """What is printed at the start; None for what was changed or closed since."""

    sign_in_name: str
    password: str | None
    join_code: str | None
    second: str | None = None


def load_demo(unit: Unit, now: datetime) -> Demo:
    """Make the demo school unless it is there, and return the way into it."""
    if _school_id(unit) is None:
        with unit.write() as session:
            _make(Whole(session), now)
    return _way_in(unit)


def _make(whole: Unit, now: datetime) -> None:
    long_ago = now - timedelta(days=400)
    wren = schools.add_school(whole, _new_school(), long_ago)
    juno = _storekeeper(whole, wren, long_ago)
    tamsin = _second_instructor(whole, wren, long_ago)
    preparing.load_folder(whole, wren, long_ago)
    versions = {card.slug: card.version_id for card in preparing.list_scenarios(whole, wren)}
    yard = Yard(whole, wren, juno, now, versions)
    set_rules(yard, tamsin)
    live_a_year(yard)
    course_id = teaching.add_course(whole, wren, COURSE, long_ago)
    moderate(whole, fill_past_class(yard, course_id), wren, tamsin)
    _open_class(yard, course_id)


def _new_school() -> NewSchool:
    return NewSchool(
        name=DEMO_SCHOOL,
        timezone="Europe/London",
        locale="en",
        instructor_name=INSTRUCTOR,
        sign_in_name=SIGN_IN_NAME,
        password=SIGN_IN_WORDS,
    )


def _storekeeper(whole: Unit, wren: Actor, now: datetime) -> Actor:
    """Add the storekeeper, as whom nobody signs in until an instructor sets a password."""
    roles = frozenset({Role.STOREKEEPER})
    new = NewPerson(STOREKEEPER, "juno", secrets.token_urlsafe(), roles)
    return Actor(accounts.add_person(whole, wren, new, now), wren.school_id, roles)


def _second_instructor(whole: Unit, wren: Actor, now: datetime) -> Actor:
    roles = frozenset({Role.INSTRUCTOR})
    new = NewPerson(SECOND, SECOND_SIGN_IN_NAME, SIGN_IN_WORDS, roles)
    return Actor(accounts.add_person(whole, wren, new, now), wren.school_id, roles)


def _open_class(yard: Yard, course_id: int) -> None:
    new = NewClass(course_id, "Alder group, second day", yard.now.date())
    class_id = teaching.create_class(yard.unit, yard.wren, new, yard.now)
    version_ids = tuple(yard.versions[slug] for slug in OPEN_SCENARIOS)
    choice = ScenarioChoice(class_id, version_ids, seen=1)
    teaching.choose_scenarios(yard.unit, yard.wren, choice)
    teaching.open_class(yard.unit, yard.wren, class_id, yard.now)
    pulls = {yard.versions[slug]: number for slug, number in PLANNED_TODAY.items()}
    planning.plan_pulls(yard.unit, yard.wren, NewPlan(class_id, pulls, seen=0), yard.now)
    _issue(yard, class_id)


def _issue(yard: Yard, class_id: int) -> None:
    """Issue what the list proposes, but for the last few items."""
    proposed = kit_list(yard.unit, yard.juno, class_id, yard.now.date()).proposed
    going = tuple(row.id for row in proposed if row.mark not in NOT_YET_OUT)
    issuing.issue(yard.unit, yard.juno, Issue(class_id, going, "issue-today"), yard.now)


def _school_id(unit: Unit) -> int | None:
    with unit.read() as session:
        return session.scalar(select(tables.School.id).where(tables.School.name == DEMO_SCHOOL))


def _way_in(unit: Unit) -> Demo:
    school_id = _school_id(unit)
    with unit.read() as session:
        people = select(tables.Person.sign_in_name, tables.Person.password_hash).where(
            tables.Person.school_id == school_id,
            tables.Person.sign_in_name.in_((SIGN_IN_NAME, SECOND_SIGN_IN_NAME)),
            tables.Person.ended_at.is_(None),
        )
        kept = dict(session.execute(people).all())
        code = session.scalar(
            select(tables.ClassSession.join_code)
            .where(
                tables.ClassSession.school_id == school_id,
                tables.ClassSession.join_code.is_not(None),
            )
            .order_by(tables.ClassSession.id.desc())
            .limit(1)
        )
    first, second = (
        matches(SIGN_IN_WORDS, kept.get(name)) for name in (SIGN_IN_NAME, SECOND_SIGN_IN_NAME)
    )
    return Demo(
        SIGN_IN_NAME,
        SIGN_IN_WORDS if first else None,
        code,
        SECOND_SIGN_IN_NAME if first and second else None,
    )
