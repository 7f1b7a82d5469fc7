"""View models of the yard: who is marked by whom, one list, and what two saw differently."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from flask import url_for
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.assessment.yard import Compared
from coursekit.scenario.yard import Criterion, Level, criteria_of
from coursekit.services.yard import Standing, YardClass, YardSheetView
from coursekit.services.yard_places import YardPlace
from coursekit.web.teach.yard_forms import Typed
from coursekit.web.verdicts import LEVELS


@dataclass(frozen=True)
class PlaceLine:
    """One student at one list."""

    url: str
    student: str
    scenario: str
    outcome: str | None
    marks: str
    note: str


@dataclass(frozen=True)
class YardPage:
    """The yard of a class."""

    class_id: int
    class_title: str
    on: date
    title: str
    lines: tuple[PlaceLine, ...]
    agreement: tuple[str, ...]


@dataclass(frozen=True)
class CriterionLine:
    """One criterion: what to look for, what was noted, and what may be taken for it now."""

    name: str
    text: str
    critical: bool
    source: str
    level: int | None
    note: str
    others: tuple[str, ...]
    choices: tuple[int, ...]
    hint: str
    error: str

    @property
    def id(self) -> str:
        """The anchor of the criterion on its page."""
        return f"at-{self.name}"


@dataclass(frozen=True)
class TaskPart:
    """One task of the list."""

    title: str
    criteria: tuple[CriterionLine, ...]


@dataclass(frozen=True)
class SheetPage:
    """One student's list before one assessor."""

    class_id: int
    class_title: str
    enrolment_id: int
    class_scenario_id: int
    title: str
    scenario: str
    parts: tuple[TaskPart, ...]
    is_final: bool
    must_agree: bool
    outcome: str | None
    marks: str
    why: tuple[str, ...]

    @property
    def to_mend(self) -> tuple[CriterionLine, ...]:
        """The criteria beside which a message stands."""
        return tuple(one for part in self.parts for one in part.criteria if one.error)


def yard_page(found: YardClass) -> YardPage:
    """Return the yard of a class."""
    lines = tuple(map(_place_line, found.places))
    done = sum(1 for place in found.places if place.is_settled)
    return YardPage(
        found.head.id,
        found.head.title,
        found.head.on,
        title=ngettext(
            "%(done)s of %(num)d yard list is marked",
            "%(done)s of %(num)d yard lists are marked",
            len(lines),
            done=done,
        )
        if lines
        else _("Nobody in this class has a yard list"),
        lines=lines,
        agreement=tuple(_agreement(found.agreement)) if found.agreement else (),
    )


def sheet_page(view: YardSheetView, typed: Typed) -> SheetPage:
    """Return one student's list as the assessor has it, with what was typed and did not pass."""
    place, is_final = view.place, view.standing is not Standing.TO_MARK
    parts = tuple(
        TaskPart(
            task.title,
            tuple(_criterion(f"{task.id}.{one.id}", one, view, typed) for one in task.criteria),
        )
        for task in place.scenario.yard
    )
    return SheetPage(
        view.head.id,
        view.head.title,
        place.student.enrolment_id,
        place.class_scenario_id,
        title=_sheet_title(view),
        scenario=place.scenario.title,
        parts=parts,
        is_final=is_final,
        must_agree=bool(view.may_agree_on),
        outcome=place.outcome.outcome if is_final and place.outcome else None,
        marks=_marks(place) if is_final else "",
        why=tuple(_why(place)) if is_final else (),
    )


def level_words(level: Level) -> str:
    """Return a level as a shape and a word."""
    shape, word = LEVELS[level]
    return f"{shape} {word}"


def _sheet_title(view: YardSheetView) -> str:
    name = view.place.student.name
    if view.may_agree_on:
        return _("Two assessors saw %(name)s differently", name=name)
    if view.standing is Standing.HANDED_IN:
        return _("The list of %(name)s is handed in", name=name)
    if view.standing is Standing.BY_TWO:
        return _("Two others have marked the list of %(name)s", name=name)
    if view.standing is Standing.NOT_OPEN:
        return _("The class is not open: %(name)s can't be marked", name=name)
    left = sum(1 for key, _one in criteria_of(view.place.scenario.yard) if key not in view.seen)
    if not left:
        return _("%(name)s: all is marked, hand it in", name=name)
    return ngettext(
        "%(name)s: %(num)d criterion to look at", "%(name)s: %(num)d criteria to look at",
        left, name=name,
    )  # fmt: skip


def _place_line(place: YardPlace) -> PlaceLine:
    by = ", ".join(one.assessor for one in place.own)
    note = _("by %(names)s", names=by) if by else _("not marked yet")
    if place.is_blind:
        note = _("by %(names)s; what they saw stands here once your own list is in", names=by)
    if place.must_agree:
        note = _("%(names)s saw it differently: agree", names=by)
    return PlaceLine(
        url_for(
            "teach.yard_sheet",
            enrolment_id=place.student.enrolment_id,
            class_scenario_id=place.class_scenario_id,
        ),
        place.student.name,
        place.scenario.title,
        None if place.outcome is None else place.outcome.outcome,
        _marks(place),
        note,
    )


def _marks(place: YardPlace) -> str:
    if place.outcome is None:
        return ""
    return f"{place.outcome.marks:g} / {place.outcome.out_of:g}"


def _criterion(name: str, one: Criterion, view: YardSheetView, typed: Typed) -> CriterionLine:
    is_marked = view.standing is Standing.TO_MARK
    noted = view.seen.get(name)
    level = None if noted is None or not is_marked else int(noted.level)
    choices = tuple(Level) if is_marked else view.may_agree_on.get(name, ())
    return CriterionLine(
        name,
        one.text,
        one.critical,
        one.source or "",
        typed.levels.get(name, level),
        typed.notes.get(name, "" if noted is None else noted.note),
        () if is_marked else tuple(_seen(name, view)),
        choices,
        hint=_only_the_other() if choices == (Level.NOT_SHOWN,) else "",
        error=typed.errors.get(name, ""),
    )


def _seen(name: str, view: YardSheetView) -> Iterator[str]:
    """Yield what everybody saw who handed a list in, and what was noted and never handed in."""
    for row in view.place.sheets:
        if name in row.levels:
            yield f"{row.assessor}: {level_words(row.levels[name])}"
    if view.standing is not Standing.HANDED_IN and name in view.seen:
        yield _("You, not handed in: %(level)s", level=level_words(view.seen[name].level))


def _only_the_other() -> str:
    return _("The other did not see it: only they may raise it, and send this in your place.")


def _why(place: YardPlace) -> Iterator[str]:
    if place.outcome is None:
        return
    texts = {
        f"{task.id}.{one.id}": one.text for task in place.scenario.yard for one in task.criteria
    }
    for name in place.outcome.not_shown:
        yield _("Critical and not shown: %(what)s", what=texts[name])
    for name in place.outcome.prompted:
        yield _("Critical, and it took prompting: %(what)s", what=texts[name])


def _agreement(found: Compared) -> Iterator[str]:
    yield ngettext(
        "Two assessors marked %(num)d criterion and agree in %(agreed)s.",
        "Two assessors marked %(num)d criteria and agree in %(agreed)s.",
        found.criteria,
        agreed=found.agreed,
    )
    yield ngettext(
        "In %(num)d one saw it unaided and the other did not see it.",
        "In %(num)d one saw it unaided and the other did not see it.",
        found.passed_by_one,
    )
    if found.kappa is None:
        yield _("Kappa is not defined: everything has the same level.")
    else:
        yield _("Cohen's kappa, weighted by steps: %(kappa)s.", kappa=f"{found.kappa.value:.2f}")
    if found.is_small:
        yield _("Below 30 criteria kappa says little (a convention).")
