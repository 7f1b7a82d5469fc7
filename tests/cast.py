"""The cast of the tests, and the small school that they work in; all of it is invented."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from coursekit.services import (
    accounts,
    answering,
    inspecting,
    preparing,
    register,
    schools,
    teaching,
)
from coursekit.services.accounts import Credentials, NewPerson
from coursekit.services.actor import Actor, Role
from coursekit.services.answering import Join
from coursekit.services.register import NewItem, NewType
from coursekit.services.schools import NewSchool
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store.unit import Unit
from tests.looks import examined
from tests.shell.files.ford import FILE, FORD

NOW = datetime(2026, 6, 13, 8, 30, tzinfo=UTC)
TODAY = NOW.date()
PASSWORD = "lantern gravel orchard"

# (mark, kind, material, WLL, MBS): what a rig of the scenario needs, and a rope.
KIT = (
    ("Line 1", "winch-line", "synthetic", "", "88 kN"),
    ("Line 2", "extension-line", "", "", "88 kN"),
    ("Sling 1", "roundsling", "", "3000 kg", ""),
    ("Bow 1", "bow-shackle", "", "3.25 t", "19.5 t"),
    ("Bow 2", "bow-shackle", "", "3.25 t", "19.5 t"),
    ("Soft 1", "soft-shackle", "", "", "140 kN"),
    ("Ring 1", "pulley-ring", "", "", "160 kN"),
    ("Hook 1", "hook", "", "3 t", ""),
    ("Rope 1", "kinetic-rope", "", "", "125 kN"),
    ("Damper 1", "line-damper", "", "", ""),
)


@dataclass(frozen=True)
class Member:
    """Somebody of the cast, signed in; students have no sign-in name."""

    actor: Actor
    name: str
    token: str
    sign_in_name: str = ""


@dataclass(frozen=True)
class Cast:
    """Mara teaches and keeps the store, Tobin keeps it, Ana is Mara's student.

    Idris teaches at another school and must see nothing of this one.
    """

    instructor: Member
    storekeeper: Member
    student: Member
    outsider: Member
    course_id: int
    class_id: int
    class_scenario_id: int
    version_id: int
    join_code: str
    return_code: str
    items: Mapping[str, int]
    password: str = PASSWORD


def fill(unit: Unit, folder: Path) -> Cast:
    """Fill an empty database with the cast and return it."""
    mara = schools.set_up_school(unit, _school("Fernbank Recovery School", "Mara Quint"), NOW)
    idris = schools.add_school(unit, _school("Northway Recovery School", "Idris Vale"), NOW)
    keeper = NewPerson("Tobin Hale", "tobin hale", PASSWORD, frozenset({Role.STOREKEEPER}))
    accounts.add_person(unit, mara, keeper, NOW)
    version_id = _scenario(unit, mara, folder)
    course_id = teaching.add_course(unit, mara, "Winch basics", NOW)
    class_id, join_code = _class(unit, mara, course_id, version_id)
    joined = answering.join_class(unit, Join(join_code, "Ana Lim"), NOW)
    tobin = _signed_in(unit, "Tobin Hale")
    return Cast(
        instructor=_signed_in(unit, "Mara Quint"),
        storekeeper=tobin,
        student=Member(joined.person.actor, "Ana Lim", joined.token),
        outsider=_signed_in(unit, "Idris Vale", idris.school_id),
        course_id=course_id,
        class_id=class_id,
        class_scenario_id=answering.my_class(unit, joined.person.actor)
        .scenarios[0]
        .class_scenario_id,
        version_id=version_id,
        join_code=join_code,
        return_code=joined.return_code,
        items=_kit(unit, tobin.actor),
    )


def _school(name: str, instructor: str) -> NewSchool:
    return NewSchool(name, "Europe/London", "en", instructor, instructor, PASSWORD)


def _signed_in(unit: Unit, name: str, school_id: int | None = None) -> Member:
    signed_in = accounts.sign_in(unit, Credentials(name, PASSWORD, school_id), NOW)
    return Member(signed_in.person.actor, name, signed_in.token, name.casefold())


def _scenario(unit: Unit, mara: Actor, folder: Path) -> int:
    path = folder / FILE
    path.write_text(FORD, encoding="utf-8")
    preparing.load_scenarios(unit, mara, [path], NOW)
    return preparing.list_scenarios(unit, mara)[0].version_id


def _class(unit: Unit, mara: Actor, course_id: int, version_id: int) -> tuple[int, str]:
    new = NewClass(course_id, "Saturday group", TODAY)
    class_id = teaching.create_class(unit, mara, new, NOW)
    teaching.choose_scenarios(unit, mara, ScenarioChoice(class_id, (version_id,), seen=1))
    return class_id, teaching.open_class(unit, mara, class_id, NOW)


def _kit(unit: Unit, tobin: Actor) -> dict[str, int]:
    items: dict[str, int] = {}
    week_ago = NOW - timedelta(days=7)
    for mark, kind, material, wll, mbs in KIT:
        new = NewType(f"{kind} of {mark}", kind, material, wll=wll, mbs=mbs)
        type_id = register.register_type(unit, tobin, new, week_ago)
        item = NewItem(type_id, mark, serial=f"FB-{len(items) + 1:03}", made=date(2026, 1, 15))
        item_id = register.register_item(unit, tobin, item, week_ago)
        first = examined(kind, item_id, 1, f"first-look-{item_id}", material=material)
        inspecting.inspect(unit, tobin, first, week_ago)
        items[mark] = item_id
    return items
