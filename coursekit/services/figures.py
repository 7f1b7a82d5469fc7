"""How the scenarios of a class worked: in this class, and in all classes so far."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from sqlalchemy.orm import Session

from coursekit.assessment.figures import MarkedPaper, PaperFigures, Scored, figures_of
from coursekit.scenario.model import Scenario
from coursekit.services.actor import Actor, Role
from coursekit.services.class_head import head_of
from coursekit.services.versions import scenario_of
from coursekit.store import queries
from coursekit.store.queries.classes import ClassHead
from coursekit.store.queries.figures import ScoreRow
from coursekit.store.queries.follow_ups import ReplyRow
from coursekit.store.unit import Unit

# More papers than these change no figure that a person would act on.
MOST_PAPERS = 1_000


@dataclass(frozen=True)
class ScenarioFigures:
    """One scenario of a class: how it worked here, and with all papers of the version."""

    version_id: int
    scenario: Scenario
    here: PaperFigures
    ever: PaperFigures
    replies: tuple[ReplyRow, ...] = ()

    def confirmed(self, task_id: str, slip: str) -> tuple[int, int]:
        """Return how many confirmed a diagnosis here, of those who replied to the question."""
        asked = [row for row in self.replies if row.task_id == task_id and slip in row.slips]
        return sum(row.slip == slip for row in asked), len(asked)


@dataclass(frozen=True)
class ClassFigures:
    """A class with the figures of its scenarios."""

    head: ClassHead
    scenarios: tuple[ScenarioFigures, ...]


def class_figures(unit: Unit, actor: Actor, class_id: int) -> ClassFigures:
    """Return how the scenarios of a class worked: 3 queries and 1 for each scenario.

    Figures over all classes rest on the newest `MOST_PAPERS` papers of the version.
    """
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        head = head_of(session, actor.school_id, class_id)
        replies = queries.follow_ups.of_class(session, class_id)
        rows = [
            (row, queries.figures.scores(session, actor.school_id, row.version_id, MOST_PAPERS))
            for row in queries.classes.scenarios(session, class_id)
        ]
    return ClassFigures(
        head,
        tuple(
            replace(
                _figures(class_id, row.version_id, scenario_of(row.document, {}), scores),
                replies=tuple(replies.get(row.version_id, ())),
            )
            for row, scores in rows
        ),
    )


def standard_error_of(
    session: Session, school_id: int, version_id: int, scenario: Scenario
) -> float | None:
    """Return the standard error of a mark of a version, in marks, from its papers: 1 query.

    None while there are too few papers for one, or where they do not differ.
    """
    rows = queries.figures.scores(session, school_id, version_id, MOST_PAPERS)
    return figures_of([task.id for task in scenario.tasks], _papers(rows)).standard_error


def _figures(
    class_id: int, version_id: int, scenario: Scenario, scores: tuple[ScoreRow, ...]
) -> ScenarioFigures:
    tasks = [task.id for task in scenario.tasks]
    of_class = (row for row in scores if row.class_id == class_id)
    return ScenarioFigures(
        version_id,
        scenario,
        here=figures_of(tasks, _papers(of_class)),
        ever=figures_of(tasks, _papers(scores)),
    )


def _papers(rows: Iterable[ScoreRow]) -> list[MarkedPaper]:
    papers: dict[int, tuple[dict[str, Scored], str]] = {}
    for row in rows:
        tasks, _outcome = papers.setdefault(row.attempt_id, ({}, row.outcome))
        tasks[row.task_id] = Scored(row.marks, row.out_of, row.verdict, row.slips)
    return [MarkedPaper(tasks, outcome) for tasks, outcome in papers.values()]
