"""View models of the people of a school: who works there, and what one of them may do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.services.actor import Role
from coursekit.store.queries.people import StaffRow
from coursekit.web import words


@dataclass(frozen=True)
class PersonLine:
    """One of the staff: roles in words, and since when they have left."""

    id: int
    name: str
    sign_in_name: str
    roles: str
    ended_at: datetime | None


@dataclass(frozen=True)
class PeoplePage:
    """Everybody who works at the school, and who did."""

    title: str
    here: tuple[PersonLine, ...]
    left: tuple[PersonLine, ...]
    lacks_assessor: bool


@dataclass(frozen=True)
class PersonPage:
    """One of the staff, and the ways to change what they may do."""

    title: str
    person: PersonLine
    is_only_head: bool


def people_page(rows: Sequence[StaffRow], school: str) -> PeoplePage:
    """Return the page of a school's staff."""
    here = tuple(row for row in rows if row.ended_at is None)
    assessors = [row for row in here if Role.INSTRUCTOR in row.roles]
    return PeoplePage(
        title=ngettext(
            "%(num)d person works at %(school)s",
            "%(num)d people work at %(school)s",
            len(here),
            school=school,
        ),
        here=tuple(map(_line, here)),
        left=tuple(_line(row) for row in rows if row.ended_at is not None),
        lacks_assessor=len(assessors) < 2,  # noqa: PLR2004  a second one looks at a first one's marks
    )


def person_page(row: StaffRow, only_head: int | None) -> PersonPage:
    """Return the page of one of the staff."""
    line = _line(row)
    title = (
        _("%(name)s: %(roles)s", name=line.name, roles=line.roles)
        if line.ended_at is None
        else _("%(name)s has left the school", name=line.name)
    )
    return PersonPage(title, line, only_head == row.id)


def _line(row: StaffRow) -> PersonLine:
    roles = ", ".join(str(words.ROLES[role]) for role in Role if role in row.roles)
    return PersonLine(row.id, row.name, row.sign_in_name, roles, row.ended_at)
