"""What the pages before handing in show: nothing here holds a truth, a seed or a slip."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime

from flask import url_for
from flask_babel import gettext as _

from coursekit.drawing.site_plan import SitePlan
from coursekit.files.quantity_names import kind_of
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.rigging.rig import Rig
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import OWN_RIG, AnyTask, ItemTask, QuantityTask
from coursekit.services.answering import AttemptView, MyScenario, StudentClass
from coursekit.services.joining import RETURN_CODE_LENGTH
from coursekit.services.passwords import code_as_typed
from coursekit.web import words
from coursekit.web.cautions import Caution, cautions_for, methods_at_hand
from coursekit.web.labels import Label, labels
from coursekit.web.own_rig import own_rig
from coursekit.web.plan import asking_plan, plain_plan
from coursekit.web.questions import about, asks_to_build, question
from coursekit.web.read_back import read_back
from coursekit.web.rig_text import rig_text
from coursekit.web.site_facts import Facts, Row, course_rules, site_facts

PLACE_LOAD = re.compile(r"place\.(?P<at>.+)\.load")


@dataclass(frozen=True)
class AppealPage:
    """A marked paper about which its student asks."""

    attempt_id: int
    scenario: str


@dataclass(frozen=True)
class CardPage:
    """The class card: how to come back to this class."""

    class_title: str
    school: str
    name: str
    codes: tuple[str, str] | None

    @property
    def return_code(self) -> str:
        """The return code in groups that the eye can hold."""
        code = code_as_typed(self.codes[1]) if self.codes else ""
        return " ".join(code[at : at + 4] for at in range(0, len(code), 4))

    @property
    def outlives_the_class(self) -> bool:
        """Whether the code alone lets its student in; an older card needs the join code."""
        return bool(self.codes) and len(self.return_code.replace(" ", "")) == RETURN_CODE_LENGTH


@dataclass(frozen=True)
class ClassPage:
    """The student's scenarios, how far each is, and which may be tried again now."""

    title: str
    course: str
    is_open: bool
    scenarios: tuple[MyScenario, ...]
    done: int
    may_again: frozenset[int]
    other_numbers: bool


@dataclass(frozen=True)
class Step:
    """One task in the row of them all."""

    number: int
    task_id: str
    question: str
    marks: float
    url: str
    answered: bool
    here: bool = False


@dataclass(frozen=True)
class Ground:
    """What stands on the ground: facts, gear, plan and cautions, as the brief gives them."""

    facts: tuple[Facts, ...]
    rules: tuple[Row, ...]
    labels: tuple[Label, ...]
    plan: SitePlan
    cautions: tuple[Caution, ...]
    rig: tuple[str, ...]
    rig_is_own: bool = False


@dataclass(frozen=True)
class AttemptPage:
    """The brief of a scenario with the row of its tasks."""

    attempt_id: int
    title: str
    level: str
    brief: str
    class_is_open: bool
    steps: tuple[Step, ...]
    ground: Ground

    @property
    def answered(self) -> int:
        """How many tasks have an answer."""
        return sum(step.answered for step in self.steps)


@dataclass(frozen=True)
class TaskPage:
    """One task: its question, what is known, and the way on."""

    attempt_id: int
    title: str
    step: Step
    steps: tuple[Step, ...]
    about: str
    understood: str
    after: str
    ground: Ground

    @property
    def sent(self) -> int:
        """How many tasks have an answer on the server."""
        return sum(step.answered for step in self.steps)


@dataclass(frozen=True)
class HandInPage:
    """What would be handed in, and what is still unanswered."""

    attempt_id: int
    title: str
    sent: int
    unanswered: tuple[Step, ...]


def class_page(mine: StudentClass, now: datetime) -> ClassPage:
    """Return the page of a student's class."""
    done = sum(scenario.status == "submitted" for scenario in mine.scenarios)
    may_again = frozenset(
        one.class_scenario_id
        for one in mine.scenarios
        if one.again_from is not None and now >= one.again_from
    )
    return ClassPage(
        title=mine.title,
        course=mine.course,
        is_open=mine.status == "open",
        scenarios=mine.scenarios,
        done=done,
        may_again=may_again,
        other_numbers=mine.other_numbers,
    )


def attempt_page(view: AttemptView) -> AttemptPage:
    """Return the page of the brief."""
    scenario = view.scenario
    return AttemptPage(
        view.attempt_id,
        scenario.title,
        str(words.LEVELS[scenario.level]),
        scenario.brief,
        view.class_status == "open",
        steps(view),
        _ground(view),
    )


def task_page(view: AttemptView, task: AnyTask) -> TaskPage:
    """Return the page of one task."""
    row = steps(view, task.id)
    here = next(step for step in row if step.here)
    rest = row[here.number :]
    way_on = rest[0].url if rest else url_for("answer.hand_in", attempt_id=view.attempt_id)
    return TaskPage(
        view.attempt_id,
        view.scenario.title,
        here,
        row,
        _about(view, task),
        understood(view, task),
        way_on,
        _ground(view, task),
    )


def hand_in_page(view: AttemptView) -> HandInPage:
    """Return the page that asks before handing in."""
    row = steps(view)
    unanswered = tuple(step for step in row if not step.answered)
    return HandInPage(view.attempt_id, view.scenario.title, len(row) - len(unanswered), unanswered)


def steps(view: AttemptView, here: str = "") -> tuple[Step, ...]:
    """Return the row of tasks of an attempt."""
    return tuple(
        Step(
            number,
            task.id,
            question(view.scenario, task),
            task.marks,
            url_for("answer.task", attempt_id=view.attempt_id, task_id=task.id),
            task.id in view.answers,
            task.id == here,
        )
        for number, task in enumerate(view.scenario.tasks, start=1)
    )


def understood(view: AttemptView, task: AnyTask) -> str:
    """Return what a saved quantity was understood to be, so that it can be checked."""
    typed = view.answers.get(task.id)
    kind = kind_of(task.of, view.scenario.situation) if isinstance(task, QuantityTask) else None
    if kind is None or not isinstance(typed, str):
        return ""
    return read_back(typed, kind, units_of(view.scenario)[Kind.FORCE])


def _about(view: AttemptView, task: AnyTask) -> str:
    is_of_own = isinstance(task, QuantityTask | ItemTask) and task.rig == OWN_RIG
    if is_of_own and own_rig(view.scenario, view.answers) is None:
        return _("For the rig that you build: there is none yet.")
    return about(view.scenario, task)


def _rig_of(view: AttemptView, task: AnyTask | None) -> Rig | None:
    """Return the rig that a page is about: the file's, or the student's own once built.

    Where the student is asked to build one, a rig of the file would be the answer.
    """
    scenario = view.scenario
    tasks = scenario.tasks if task is None else (task,)
    asking = [each for each in tasks if isinstance(each, QuantityTask | ItemTask)]
    of_the_file = [each.rig for each in asking if each.rig != OWN_RIG]
    if of_the_file:
        return None if asks_to_build(scenario) else scenario.rigs.get(of_the_file[0])
    return own_rig(scenario, view.answers) if asking and task is not None else None


def _ground(view: AttemptView, task: AnyTask | None = None) -> Ground:
    return ground_of(view.scenario, _rig_of(view, task), task)


def ground_of(scenario: Scenario, rig: Rig | None, task: AnyTask | None = None) -> Ground:
    """Return what stands on the ground, with a rig where the page is about one."""
    methods = {rig.method} if rig else set(methods_at_hand(scenario.situation))
    return Ground(
        site_facts(scenario),
        course_rules(scenario),
        labels(scenario),
        plain_plan(scenario) if rig is None else asking_plan(scenario, rig, _asked(task)),
        cautions_for(methods),
        rig_text(scenario, rig) if rig else (),
        rig is not None and rig != scenario.given_rig,
    )


def _asked(task: AnyTask | None) -> set[str]:
    """Return the place whose load a task asks for."""
    place = PLACE_LOAD.fullmatch(task.of) if isinstance(task, QuantityTask) else None
    return {place["at"]} if place else set()
