"""Drafting: the text of a scenario file as one person writes it, until it is a version.

A draft keeps whatever was written, sound or not, at every change; it belongs to
one person.  Each change names the revision that it was made from, so that a
second tab overwrites nothing unseen.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coursekit.files.scenario_edit import with_value
from coursekit.services.actor import Actor, Role
from coursekit.services.errors import Conflict, NotFound, Refused
from coursekit.services.preparing import read_source, require_version, version_row
from coursekit.store import queries, tables
from coursekit.store.queries.drafts import DraftRow
from coursekit.store.queries.schools import locked_school
from coursekit.store.unit import Unit

__all__ = [
    "Draft",
    "Rewrite",
    "begin_copy",
    "begin_from",
    "begin_with",
    "discard",
    "draft",
    "drafts",
    "follow",
    "rewrite",
    "save_version",
]

LARGEST = 128 * 1024
"""Bytes of a draft; a long scenario has a fifth of it."""

MOST = 40
"""Drafts of one person."""

NAME = "draft"
_TITLE = re.compile(r"^title:[ \t]*(.{1,80})", re.MULTILINE)


@dataclass(frozen=True)
class Draft:
    """A draft, and the newest version of the scenario that it began from."""

    draft_id: int
    text: str
    revision: int
    changed_at: datetime
    slug: str | None
    base_id: int | None
    base_number: int
    newest_number: int

    @property
    def title(self) -> str:
        """The title that stands in the text, empty where none can be made out."""
        found = _TITLE.search(self.text)
        return found.group(1).strip(" \"'\r") if found else ""

    @property
    def is_behind(self) -> bool:
        """Whether a newer version was saved since the draft began."""
        return self.newest_number > self.base_number


@dataclass(frozen=True)
class Rewrite:
    """A draft's new text; `seen` is the revision that it was made from."""

    draft_id: int
    text: str
    seen: int


def begin_from(unit: Unit, actor: Actor, version_id: int, now: datetime) -> int:
    """Return the actor's draft of a scenario, begun from this version if there is none."""
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        version = require_version(session, actor, version_id)
        going_on = session.scalar(
            select(tables.ScenarioDraft.id).where(
                tables.ScenarioDraft.person_id == actor.person_id,
                tables.ScenarioDraft.slug == version.slug,
            )
        )
        return going_on or _begun(session, actor, version.source, now, version)


def begin_copy(unit: Unit, actor: Actor, version_id: int, now: datetime) -> int:
    """Begin a new scenario from the text of another, with an id that is free."""
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        version = require_version(session, actor, version_id)
        text = with_value(version.source, ("id",), _free(session, actor, version.slug))
        return _begun(session, actor, text, now)


def begin_with(unit: Unit, actor: Actor, text: str, now: datetime) -> int:
    """Begin a new scenario with a text, such as that of a file somebody brings."""
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        return _begun(session, actor, _checked(text), now)


def drafts(unit: Unit, actor: Actor) -> tuple[Draft, ...]:
    """Return the actor's drafts, the one changed last first."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        return tuple(
            _draft(session, actor, row)
            for row in queries.drafts.of_person(session, actor.person_id)
        )


def draft(unit: Unit, actor: Actor, draft_id: int) -> Draft:
    """Return one of the actor's drafts."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        rows = queries.drafts.of_person(session, actor.person_id)
        row = next((row for row in rows if row.draft_id == draft_id), None)
        if row is None:
            raise NotFound("draft")
        return _draft(session, actor, row)


def rewrite(unit: Unit, actor: Actor, change: Rewrite, now: datetime) -> int:
    """Keep a draft's new text, sound or not, and return its revision."""
    actor.require(Role.INSTRUCTOR)
    text = _checked(change.text)
    with unit.write() as session:
        row = _locked(session, actor, change.draft_id, change.seen)
        if row.text != text:
            row.text, row.changed_at = text, now
            row.revision += 1
        return row.revision


def save_version(unit: Unit, actor: Actor, draft_id: int, seen: int, now: datetime) -> int:
    """Make a draft the newest version of its scenario; return the version's id.

    Raises
    ------
    Problems
        Everything that is wrong with the text; the draft stays.
    Conflict
        If a newer version of the scenario was saved since the draft began; see
        `follow`.
    """
    actor.require(Role.INSTRUCTOR)
    read = read_source(draft(unit, actor, draft_id).text, NAME)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        row = _locked(session, actor, draft_id, seen)
        if row.text != read.source:
            raise _changed()
        newest = _newest(session, actor, read.scenario.id)
        if newest is not None:
            _require_new(row, newest)
        version = version_row(actor, read, newest.number + 1 if newest else 1, now)
        session.add(version)
        session.delete(row)
        session.flush()
        return version.id


def discard(unit: Unit, actor: Actor, draft_id: int) -> None:
    """Throw a draft away; what was saved stays."""
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        session.delete(_mine(session, actor, draft_id))


def follow(unit: Unit, actor: Actor, draft_id: int) -> None:
    """Let a draft go on from the newest version of its scenario, its text as it is."""
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        row = _mine(session, actor, draft_id)
        newest = _newest(session, actor, row.slug)
        row.base_id = newest.id if newest else None


def _checked(text: str) -> str:
    if len(text.encode()) > LARGEST:
        raise Refused(f"The file is larger than {LARGEST // 1024} kB", "Shorten it")
    if "\x00" in text:
        raise Refused("The file holds a character that can't be shown", "Take it out")
    return text


def _begun(
    session: Session,
    actor: Actor,
    text: str,
    now: datetime,
    base: tables.ScenarioVersion | None = None,
) -> int:
    mine = tables.ScenarioDraft.person_id == actor.person_id
    if (session.scalar(select(func.count()).where(mine)) or 0) >= MOST:
        raise Refused(f"You have {MOST} drafts already", "Save or discard some of them first")
    row = tables.ScenarioDraft(
        school_id=actor.school_id,
        person_id=actor.person_id,
        base_id=base.id if base else None,
        slug=base.slug if base else None,
        text=text,
        revision=1,
        begun_at=now,
        changed_at=now,
    )
    session.add(row)
    session.flush()
    return row.id


def _draft(session: Session, actor: Actor, row: DraftRow) -> Draft:
    newest = queries.drafts.newest_number(session, actor.school_id, row.slug) if row.slug else 0
    return Draft(
        draft_id=row.draft_id,
        text=row.text,
        revision=row.revision,
        changed_at=row.changed_at,
        slug=row.slug,
        base_id=row.base_id,
        base_number=row.base_number or 0,
        newest_number=newest,
    )


def _mine(session: Session, actor: Actor, draft_id: int) -> tables.ScenarioDraft:
    row = session.get(tables.ScenarioDraft, draft_id, with_for_update=True)
    if row is None or row.person_id != actor.person_id:
        raise NotFound("draft")
    return row


def _locked(session: Session, actor: Actor, draft_id: int, seen: int) -> tables.ScenarioDraft:
    row = _mine(session, actor, draft_id)
    if row.revision != seen:
        raise _changed()
    return row


def _changed() -> Conflict:
    return Conflict(
        "This draft was changed in another tab or on another device",
        "What you typed is still here: look at it, then send it once more",
    )


def _newest(session: Session, actor: Actor, slug: str | None) -> tables.ScenarioVersion | None:
    versions = tables.ScenarioVersion
    return session.scalars(
        select(versions)
        .where(versions.school_id == actor.school_id, versions.slug == slug)
        .order_by(versions.number.desc())
        .limit(1)
    ).first()


def _require_new(row: tables.ScenarioDraft, newest: tables.ScenarioVersion) -> None:
    """Refuse to save over a version that the draft didn't begin from, or the very same text."""
    if newest.slug != row.slug:
        raise Refused(
            f"There is a scenario with the id {newest.slug} already",
            "Give this one an id of its own, or change that one from its page",
        )
    if newest.id != row.base_id:
        raise Conflict(
            f"Version {newest.number} was saved since this draft began",
            "Look at it, then say that yours is to follow it",
        )
    if newest.source == row.text:
        raise Refused(f"Nothing differs from version {newest.number}", "Change something first")


def _free(session: Session, actor: Actor, slug: str) -> str:
    """Return an id like this one that no scenario of the school has."""
    stem = slug[:50].rstrip("-")
    names = (f"{stem}-copy", *(f"{stem}-copy-{n}" for n in range(2, 1000)))
    return next(
        name for name in names if not queries.drafts.newest_number(session, actor.school_id, name)
    )
