"""View models of the classes: their list, a new one, what one works on, closing one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from flask_babel import ngettext

from coursekit.services.class_now import ClassNow
from coursekit.services.preparing import ScenarioCard
from coursekit.services.teaching import ClassRow
from coursekit.services.yard_places import YardPlace
from coursekit.web.words import LEVELS

STATUS_WORDS = {
    "draft": _l("being prepared"),
    "open": _l("open to students"),
    "closed": _l("over"),
}


@dataclass(frozen=True)
class ClassLine:
    """One class on the list."""

    id: int
    title: str
    course: str
    on: date
    status: str
    word: str
    detail: str


@dataclass(frozen=True)
class ClassesPage:
    """All classes: those that are open, those to come, those that are over."""

    title: str
    groups: tuple[tuple[str, tuple[ClassLine, ...]], ...]


@dataclass(frozen=True)
class DraftPage:
    """A class that is being prepared: what it is to work on."""

    id: int
    title: str
    course: str
    on: date
    version: int
    any: bool


@dataclass(frozen=True)
class ClosePage:
    """What closing would leave undone."""

    id: int
    title: str
    undone: tuple[str, ...]
    unseen: tuple[str, ...]


def classes_page(rows: Sequence[ClassRow]) -> ClassesPage:
    """Return the list of the classes."""
    headings = (
        ("open", _("Open now")),
        ("draft", _("Being prepared")),
        ("closed", _("Over")),
    )
    groups = (
        (title, tuple(_line(row) for row in rows if row.status == s)) for s, title in headings
    )
    return ClassesPage(_classes_title(rows), tuple(group for group in groups if group[1]))


def draft_page(now: ClassNow, cards: Sequence[ScenarioCard]) -> DraftPage:
    """Return the page on which a class gets its scenarios."""
    head = now.head
    return DraftPage(head.id, head.title, head.course, head.on, head.version, bool(cards))


def scenario_choices(cards: Sequence[ScenarioCard]) -> list[tuple[int, str]]:
    """Return the scenarios that a class may work on, in the order of the list."""
    return [(card.version_id, f"{card.title} ({LEVELS[card.level]})") for card in cards]


def close_page(now: ClassNow, places: Sequence[YardPlace]) -> ClosePage:
    """Return what closing a class would leave undone."""
    undone = [
        student.name
        for student in now.students
        if any(attempt.status != "submitted" for attempt in student.attempts)
        or len(student.attempts) < len(now.scenarios)
    ]
    unseen = dict.fromkeys(place.student.name for place in places if not place.sheets)
    return ClosePage(now.head.id, now.head.title, tuple(undone), tuple(unseen))


def _classes_title(rows: Sequence[ClassRow]) -> str:
    running = [row for row in rows if row.status == "open"]
    if len(running) == 1:
        return ngettext(
            "%(title)s is open: %(num)d is in",
            "%(title)s is open: %(num)d are in",
            running[0].students,
            title=running[0].title,
        )
    if running:
        return ngettext("%(num)d class is open", "%(num)d classes are open", len(running))
    return _("No class is open")


def _line(row: ClassRow) -> ClassLine:
    scenarios = ngettext("%(num)d scenario", "%(num)d scenarios", row.scenarios)
    students = ngettext("%(num)d student", "%(num)d students", row.students)
    return ClassLine(
        id=row.id,
        title=row.title,
        course=row.course,
        on=row.on,
        status=row.status,
        word=str(STATUS_WORDS[row.status]),
        detail=scenarios if row.status == "draft" else f"{scenarios}, {students}",
    )
