"""The report of a class as a table: a line for each student, a column for each task."""

from __future__ import annotations

from collections.abc import Iterator

from flask_babel import gettext as _

from coursekit.services.figures import ClassFigures, ScenarioFigures
from coursekit.services.results import ClassResults, ScenarioResult, StudentResult
from coursekit.web.subjects import subject
from coursekit.web.teach.report_page import notes_of
from coursekit.web.verdicts import outcome_of

Row = list[str | float]


def report_rows(results: ClassResults, figures: ClassFigures) -> Iterator[Row]:
    """Yield the students of a class by its tasks, with the heads first.

    A cell is empty where nothing was handed in; the marks are those of the try that counts.
    """
    scenarios = {one.version_id: one for one in figures.scenarios}
    asked = [scenarios[info.version_id] for info in results.scenarios]
    yield [
        _("student"), _("outcome"), _("marks"), _("out of"), _("tries"),
        *(head for one in asked for head in _heads(one)),
        _("what stands in the way"),
    ]  # fmt: skip
    for student in results.students:
        yield [
            student.name,
            str(outcome_of(student.outcome).word),
            *((student.marks, student.out_of) if student.counting else ("", "")),
            sum(len(place.tries) for place in student.scenarios),
            *_marks(student, asked),
            "; ".join(notes_of(student)),
        ]


def _heads(one: ScenarioFigures) -> Iterator[str]:
    for number, task in enumerate(one.scenario.tasks, start=1):
        yield _(
            "%(scenario)s: %(number)s. %(task)s (of %(out_of)s)",
            scenario=one.scenario.title,
            number=number,
            task=subject(one.scenario, task),
            out_of=f"{task.marks:g}",
        )
    if one.scenario.yard:
        yield _("%(scenario)s: yard list", scenario=one.scenario.title)


def _marks(student: StudentResult, asked: list[ScenarioFigures]) -> Iterator[str | float]:
    for place, one in zip(student.scenarios, asked, strict=True):
        earned = _earned(place)
        for task in one.scenario.tasks:
            yield earned.get(task.id, "")
        if one.scenario.yard:
            seen = None if place.yard is None else place.yard.outcome
            yield "" if seen is None else str(outcome_of(seen.outcome).word)


def _earned(place: ScenarioResult) -> dict[str, float]:
    made = place.counting
    return {} if made is None else {task.task_id: task.marks for task in made.tasks}
