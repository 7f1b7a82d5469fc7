"""The report of a class: who showed what, how the tasks worked, and what was often wrong.

One view model serves the page and the printed sheet.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.drawing.class_chart import TaskBar, TaskWords, describe_tasks, task_chart_png
from coursekit.drawing.pdf_sheet import Facts, Figure, Part, Sheet, Table, Text
from coursekit.services.figures import ClassFigures, ScenarioFigures
from coursekit.services.results import ClassResults, StudentResult
from coursekit.web import words
from coursekit.web.filters import day
from coursekit.web.given_out import sheet_of
from coursekit.web.teach.figures_page import FiguresPage, ScenarioSection, figures_page
from coursekit.web.verdicts import OUTCOMES, outcome_of
from coursekit.web.yard_words import yard_notes


@dataclass(frozen=True)
class StudentLine:
    """One student: outcome, marks, tries, and what stands in the way."""

    name: str
    outcome: str
    marks: str
    tries: str
    note: str


@dataclass(frozen=True)
class ReportPage:
    """The report of a class."""

    class_id: int
    title: str
    class_title: str
    course: str
    on: date
    instructor: str
    counts: tuple[tuple[str, int], ...]
    students: tuple[StudentLine, ...]
    strands: tuple[tuple[str, str], ...]
    figures: FiguresPage
    charts: tuple[tuple[TaskBar, ...], ...]


def report_page(results: ClassResults, figures: ClassFigures) -> ReportPage:
    """Return the report of a class."""
    students = tuple(_student(one) for one in results.students)
    competent = sum(1 for one in students if one.outcome == "competent")
    return ReportPage(
        class_id=results.head.id,
        title=ngettext(
            "%(competent)s of %(num)d student is competent",
            "%(competent)s of %(num)d students are competent",
            len(students),
            competent=competent,
        ),
        class_title=results.head.title,
        course=results.head.course,
        on=results.head.on,
        instructor=results.head.instructor,
        counts=tuple((key, sum(1 for one in students if one.outcome == key)) for key in OUTCOMES),
        students=students,
        strands=tuple(_strands(results)),
        figures=figures_page(figures),
        charts=tuple(_bars(one) for one in figures.scenarios if one.here.papers),
    )


def chart_words() -> TaskWords:
    """Return the words of the chart of tasks."""
    return TaskWords(
        title=_("Marks earned by task"),
        earned=_("share of marks earned; line: full marks, 95 % interval"),
        described=_("{name}: {earned} of the marks"),
    )


def report_sheet(page: ReportPage, school: str, at: datetime) -> Sheet:
    """Return the report as a sheet."""
    return sheet_of(page.title, _("Class report"), school, at, tuple(_parts(page)))


def _student(one: StudentResult) -> StudentLine:
    return StudentLine(
        name=one.name,
        outcome=one.outcome,
        marks=f"{one.marks:g} / {one.out_of:g}",
        tries=str(sum(len(place.tries) for place in one.scenarios)),
        note="; ".join(notes_of(one)),
    )


def notes_of(one: StudentResult) -> Iterator[str]:
    """Yield what stands in a student's way, or is to be looked at."""
    if one.stops:
        yield ngettext("%(num)d critical finding", "%(num)d critical findings", len(one.stops))
    for strand in one.strands:
        if not strand.is_reached:
            yield _("%(strand)s below its minimum", strand=words.STRANDS[strand.strand])
    missing = [place.scenario.title for place in one.scenarios if place.counting is None]
    if missing:
        yield _("not handed in: %(what)s", what=", ".join(missing))
    yield from yard_notes(one)
    if one.is_near_cut:
        yield _("near the pass mark: let a second assessor look")


def _strands(results: ClassResults) -> Iterator[tuple[str, str]]:
    """Yield the share of the marks that the class earned in each strand."""
    for key, word in words.STRANDS.items():
        shown = [
            strand for one in results.students for strand in one.strands if strand.strand == key
        ]
        out_of = sum(strand.out_of for strand in shown)
        if out_of:
            share = sum(strand.marks for strand in shown) / out_of
            yield str(word), f"{100 * share:.0f} %"


def _bars(one: ScenarioFigures) -> tuple[TaskBar, ...]:
    return tuple(
        TaskBar(
            _("Task %(number)s", number=number),
            task.facility,
            task.full_interval.low,
            task.full_interval.high,
        )
        for number, task in enumerate(one.here.tasks, start=1)
    )


def _parts(page: ReportPage) -> Iterator[Part]:
    yield Facts(
        [
            (_("Class"), f"{page.course} · {page.class_title}"),
            (_("Day"), day(page.on)),
            (_("Instructor"), page.instructor),
            *((str(outcome_of(key).word), str(count)) for key, count in page.counts),
        ]
    )
    if page.figures.few:
        yield Text(page.figures.few, warns=True)
    yield Table(
        head=(_("Student"), _("Outcome"), _("Marks"), _("Tries"), _("What stands in the way")),
        rows=[
            (one.name, str(outcome_of(one.outcome).word), one.marks, one.tries, one.note)
            for one in page.students
        ],
        heading=_("Results"),
        widths=(0.25, 0.18, 0.12, 0.08, 0.37),
    )
    if page.strands:
        yield Facts(page.strands, _("Share of the marks by strand"))
    for section, bars in zip(page.figures.sections, page.charts, strict=True):
        yield from _section(section, bars)


def _section(section: ScenarioSection, bars: tuple[TaskBar, ...]) -> Iterator[Part]:
    yield Table(
        head=(_("Task"), _("Marks earned"), _("Full marks"), _("Usual mistakes"), _("Look at")),
        rows=[
            (f"{task.number}. {task.name}", task.here, task.full, "; ".join(task.mistakes),
             task.remark)
            for task in section.tasks
        ],
        heading=section.title,
        widths=(0.28, 0.11, 0.2, 0.25, 0.16),
    )  # fmt: skip
    words_of_chart = chart_words()
    yield Figure(
        task_chart_png(bars, words_of_chart), describe_tasks(bars, words_of_chart), width=0.5
    )
    if section.held_back:
        yield Text(section.held_back)
