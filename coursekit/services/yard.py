"""Assessing in the yard: an assessor notes levels, hands a list in, and two agree on one.

Everything that was noted stays; the last note of an assessor for a criterion counts.  An
assessor sees nobody else's list before handing in the own.

A list is marked while its class is open: what was not handed in by then stays so, as with
papers.  Two may agree later too, as they may on a paper: no marks are added by that, and
without it those who differ would never come to an outcome.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.assessment.yard import Compared, compared
from coursekit.scenario.model import Scenario
from coursekit.scenario.yard import Level, criteria_of
from coursekit.services.actor import Actor, Role
from coursekit.services.checks import Checks
from coursekit.services.class_head import head_of
from coursekit.services.errors import Conflict, NotFound, Refused
from coursekit.services.yard_places import AGREED, OWN, YardPlace, places_of
from coursekit.store import queries, tables
from coursekit.store.queries.classes import ClassHead
from coursekit.store.queries.yard import Seen
from coursekit.store.unit import Unit

__all__ = ["Agreed", "Noted", "Standing", "YardClass", "YardSheetView", "agree", "hand_in",
           "note", "yard_of_class", "yard_sheet"]  # fmt: skip

OPEN = "open"
LONGEST_NOTE = 500


class Standing(StrEnum):
    """How a list stands before somebody: whether they may mark it, and why not."""

    TO_MARK = "to-mark"
    HANDED_IN = "handed-in"
    BY_TWO = "by-two"
    NOT_OPEN = "not-open"


AGAINST = {
    Standing.HANDED_IN: ("You have handed this list in", "What you saw differently is agreed on"),
    Standing.BY_TWO: (
        "Two assessors have marked this list",
        "Nothing is left to do: ask one of the two",
    ),
    Standing.NOT_OPEN: ("The class is not open", "What was not handed in stays so"),
}


@dataclass(frozen=True)
class Noted:
    """One level of one criterion, with an idempotency key."""

    enrolment_id: int
    class_scenario_id: int
    criterion: str
    level: int
    note: str
    key: str


@dataclass(frozen=True)
class Agreed:
    """What two assessors agreed on for the criteria in which they differ, and why."""

    enrolment_id: int
    class_scenario_id: int
    levels: Mapping[str, int]
    reason: str


@dataclass(frozen=True)
class YardClass:
    """A class in the yard, and how far its assessors agree over all that two marked."""

    head: ClassHead
    places: tuple[YardPlace, ...]
    agreement: Compared | None


@dataclass(frozen=True)
class YardSheetView:
    """One student's list before one assessor."""

    head: ClassHead
    place: YardPlace
    seen: Mapping[str, Seen]
    standing: Standing
    may_agree_on: Mapping[str, tuple[Level, ...]]


@dataclass(frozen=True)
class _Final:
    """A list as it is made final."""

    levels: Mapping[str, int]
    notes: Mapping[str, str]
    kind: str = OWN
    reason: str = ""


def yard_of_class(unit: Unit, actor: Actor, class_id: int) -> YardClass:
    """Return the yard lists of a class, student by student: 4 queries and 1 a scenario.

    While the class is open, whoever may still mark one as the second sees nothing of the
    first; a head sees all.
    """
    actor.require(Role.INSTRUCTOR, Role.HEAD)
    with unit.read() as session:
        head = head_of(session, actor.school_id, class_id)
        places = places_of(session, actor.school_id, class_id)
    if head.status == OPEN and not actor.has(Role.HEAD):
        places = tuple(place.seen_by(actor.person_id) for place in places)
    pairs = [place.pair for place in places if place.pair is not None]
    return YardClass(head, places, compared(pairs) if pairs else None)


def yard_sheet(
    unit: Unit, actor: Actor, enrolment_id: int, class_scenario_id: int
) -> YardSheetView:
    """Return a student's list as the actor has marked it so far."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        class_id = _class_of(session, actor, enrolment_id, class_scenario_id)
        head = head_of(session, actor.school_id, class_id)
        place = _place(session, actor, class_id, enrolment_id, class_scenario_id)
        seen = queries.yard.seen(session, enrolment_id, class_scenario_id, actor.person_id)
    may_agree_on = place.may_agree_on(actor.person_id) if place.must_agree else {}
    standing = _standing(place, actor, head.status)
    return YardSheetView(head, place, seen, standing, may_agree_on)


def note(unit: Unit, actor: Actor, noted: Noted, now: datetime) -> None:
    """Keep a level of a criterion; sent twice under one key it counts once.

    Raises
    ------
    Refused
        If the actor has handed this list in, two others have, or the class is not open.
    Problems
        If the criterion, the level or the note can't be.
    Conflict
        If the key came with other content before.
    """
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        place = _place_to_mark(session, actor, noted.enrolment_id, noted.class_scenario_id)
        checked = _checked(place.scenario, noted)
        wanted = {
            "enrolment_id": noted.enrolment_id,
            "class_scenario_id": noted.class_scenario_id,
            "assessor_id": actor.person_id,
            "criterion": noted.criterion,
            "level": noted.level,
            "note": checked,
        }
        known = session.scalar(
            select(tables.YardMark).where(
                tables.YardMark.school_id == actor.school_id, tables.YardMark.key == noted.key
            )
        )
        if known is None:
            mark = tables.YardMark(school_id=actor.school_id, **wanted, key=noted.key, at=now)
            session.add(mark)
        elif any(getattr(known, name) != value for name, value in wanted.items()):
            raise Conflict("This was sent before with other content", "Send it again")


def hand_in(
    unit: Unit, actor: Actor, enrolment_id: int, class_scenario_id: int, now: datetime
) -> None:
    """Make the actor's list final.

    Raises
    ------
    Refused
        If a criterion has no level yet, it was handed in before, two others have handed
        theirs in, or the class is not open.
    """
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        place = _place_to_mark(session, actor, enrolment_id, class_scenario_id)
        seen = queries.yard.seen(session, enrolment_id, class_scenario_id, actor.person_id)
        missing = [name for name, _one in criteria_of(place.scenario.yard) if name not in seen]
        if missing:
            raise Refused(
                f"{len(missing)} criteria have no level yet", "Look at each, then hand it in"
            )
        final = _Final(
            {key: one.level for key, one in seen.items()},
            {key: one.note for key, one in seen.items() if one.note},
        )
        session.add(_sheet(actor, place, final, now))


def agree(unit: Unit, actor: Actor, agreed: Agreed, now: datetime) -> None:
    """Keep what two assessors agreed on; both lists stay beside it.

    Raises
    ------
    Problems
        If a criterion in which they differ has no level, or one that only the other assessor
        may give it, or no reason is given.
    Refused
        If there are no two lists that differ, or the actor's own is none of them.
    """
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        place = _locked_place(session, actor, agreed.enrolment_id, agreed.class_scenario_id)
        if place.pair is None or place.compared is None or not place.must_agree:
            raise Refused("There is nothing to agree on", "Look at the list of the class")
        if place.own_of(actor.person_id) is None:
            raise Refused("You have not marked this list", "Let the two agree who marked it")
        checks = Checks()
        reason = checks.text("reason", agreed.reason)
        chosen = {
            name: _agreed_level(checks, name, agreed.levels.get(name), levels)
            for name, levels in place.may_agree_on(actor.person_id).items()
        }
        checks.done()
        final = _Final({**place.pair[0], **chosen}, {}, AGREED, reason)
        session.add(_sheet(actor, place, final, now))


def _sheet(actor: Actor, place: YardPlace, final: _Final, now: datetime) -> tables.YardSheet:
    return tables.YardSheet(
        school_id=actor.school_id,
        enrolment_id=place.student.enrolment_id,
        class_scenario_id=place.class_scenario_id,
        assessor_id=actor.person_id,
        kind=final.kind,
        levels={name: int(level) for name, level in final.levels.items()},
        notes=dict(final.notes),
        reason=final.reason,
        pass_share=place.pass_share,
        handed_in_at=now,
    )


def _checked(scenario: Scenario, noted: Noted) -> str:
    checks = Checks()
    if noted.criterion not in dict(criteria_of(scenario.yard)):
        checks.add("criterion", "The list has no such criterion", "Open the list again")
    _level(checks, "level", noted.level)
    text = checks.text("note", noted.note, needed=False)
    if len(text) > LONGEST_NOTE:
        checks.add("note", f"It has {len(text)} characters", f"Take {LONGEST_NOTE} at most")
    checks.key("key", noted.key)
    checks.done()
    return text


def _level(checks: Checks, field: str, level: int | None) -> Level:
    if level not in set(Level):
        checks.add(field, "It has no level", "Take one of the three")
        return Level.NOT_SHOWN
    return Level(level)


def _agreed_level(
    checks: Checks, field: str, level: int | None, allowed: tuple[Level, ...]
) -> Level:
    found = _level(checks, field, level)
    if level in set(Level) and found not in allowed:
        checks.add(
            field,
            "It is critical: only who did not see it may raise it, to what the other saw",
            "Take another level, or let the other assessor send this",
        )
    return found


def _locked_place(
    session: Session, actor: Actor, enrolment_id: int, class_scenario_id: int
) -> YardPlace:
    """Return a place; its enrolment is locked, so that what is done to it stands in a row."""
    class_id = _class_of(session, actor, enrolment_id, class_scenario_id)
    session.get(tables.Enrolment, enrolment_id, with_for_update=True)
    return _place(session, actor, class_id, enrolment_id, class_scenario_id)


def _place_to_mark(
    session: Session, actor: Actor, enrolment_id: int, class_scenario_id: int
) -> YardPlace:
    """Return a place, locked, that the actor may mark; its class stays open until this is done."""
    class_id = _class_of(session, actor, enrolment_id, class_scenario_id)
    group = session.get_one(tables.ClassSession, class_id, with_for_update={"read": True})
    place = _locked_place(session, actor, enrolment_id, class_scenario_id)
    standing = _standing(place, actor, group.status)
    if standing in AGAINST:
        raise Refused(*AGAINST[standing])
    return place


def _standing(place: YardPlace, actor: Actor, status: str) -> Standing:
    if place.own_of(actor.person_id) is not None:
        return Standing.HANDED_IN
    if len(place.own) > 1:
        return Standing.BY_TWO
    return Standing.TO_MARK if status == OPEN else Standing.NOT_OPEN


def _place(
    session: Session, actor: Actor, class_id: int, enrolment_id: int, class_scenario_id: int
) -> YardPlace:
    for place in places_of(session, actor.school_id, class_id):
        if (place.student.enrolment_id, place.class_scenario_id) == (
            enrolment_id,
            class_scenario_id,
        ):
            return place
    raise NotFound("yard list")


def _class_of(session: Session, actor: Actor, enrolment_id: int, class_scenario_id: int) -> int:
    """Return the class in which a student has a scenario."""
    class_id = session.scalar(
        select(tables.Enrolment.class_session_id)
        .join(
            tables.ClassScenario,
            tables.ClassScenario.class_session_id == tables.Enrolment.class_session_id,
        )
        .where(
            tables.Enrolment.id == enrolment_id,
            tables.Enrolment.school_id == actor.school_id,
            tables.ClassScenario.id == class_scenario_id,
        )
    )
    if class_id is None:
        raise NotFound("yard list")
    return class_id
