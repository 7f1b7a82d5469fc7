"""What the pages before handing in show: nothing here holds a truth, a seed or a slip."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from flask import url_for

from coursekit.drawing.site_plan import SitePlan
from coursekit.files.quantity_names import kind_of
from coursekit.quantities.display import show
from coursekit.quantities.errors import QuantityError
from coursekit.quantities.parse import parse_quantity
from coursekit.quantities.units import Kind
from coursekit.rigging.site import Situation
from coursekit.scenario.tasks import GIVEN_RIG, AnyTask, ItemTask, QuantityTask
from coursekit.services.answering import AttemptView, MyScenario, StudentClass
from coursekit.web import words
from coursekit.web.answer.questions import about, question
from coursekit.web.cautions import Caution, cautions_for
from coursekit.web.fields import decimal_comma
from coursekit.web.labels import Label, labels
from coursekit.web.plan import asking_plan, plain_plan
from coursekit.web.site_facts import Facts, Row, course_rules, site_facts

PLACE_LOAD = re.compile(r"place\.(?P<at>.+)\.load")


@dataclass(frozen=True)
class CardPage:
    """The class card: how to come back to this class."""

    class_title: str
    school: str
    name: str
    return_code: str


@dataclass(frozen=True)
class ClassPage:
    """The student's scenarios, and how far each is."""

    title: str
    course: str
    is_open: bool
    scenarios: tuple[MyScenario, ...]
    done: int


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


def class_page(mine: StudentClass) -> ClassPage:
    """Return the page of a student's class."""
    done = sum(scenario.status == "submitted" for scenario in mine.scenarios)
    return ClassPage(mine.title, mine.course, mine.status == "open", mine.scenarios, done)


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
        about(task),
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
    return read_back(typed, kind)


def read_back(typed: str, kind: Kind) -> str:
    """Return a typed quantity as it was read; nothing for what can't be read.

    >>> read_back("650 kg", Kind.FORCE)
    '650 kg read as its weight: 6.37 kN'
    >>> read_back("18.6 kN", Kind.FORCE)
    '18.6 kN'
    """
    try:
        quantity = parse_quantity(typed, kind, decimal_comma=decimal_comma())
    except QuantityError:
        return ""
    if quantity.read_as:
        return f"{quantity.read_as}: {show(quantity.value, kind, 'kN')}"
    return f"{quantity.magnitude:,f} {quantity.unit}".strip()


def _is_of_given(task: AnyTask) -> bool:
    return isinstance(task, QuantityTask | ItemTask) and task.rig == GIVEN_RIG


def _shows_given(tasks: tuple[AnyTask, ...]) -> bool:
    return any(_is_of_given(task) for task in tasks)


def _plan(view: AttemptView, task: AnyTask | None) -> SitePlan:
    """Return the plan, with the given rig where this page is about it."""
    scenario = view.scenario
    rig = scenario.given_rig
    is_about_given = _shows_given(scenario.tasks) if task is None else _is_of_given(task)
    if rig is None or not is_about_given:
        return plain_plan(scenario)
    place = PLACE_LOAD.fullmatch(task.of) if isinstance(task, QuantityTask) else None
    return asking_plan(scenario, rig, {place["at"]} if place else ())


def _methods_at_hand(situation: Situation) -> Iterator[str]:
    """Yield the methods that the vehicles and the gear allow."""
    if any(vehicle.winch for _name, vehicle in situation.vehicles()):
        yield "winch"
    if situation.recovery and any(item.is_elastic for item in situation.gear.values()):
        yield "kinetic"
    if situation.recovery and situation.recovery.points:
        yield "tow"


def _ground(view: AttemptView, task: AnyTask | None = None) -> Ground:
    scenario = view.scenario
    rig = scenario.given_rig if task is not None and _is_of_given(task) else None
    methods = {rig.method} if rig else set(_methods_at_hand(scenario.situation))
    return Ground(
        site_facts(scenario),
        course_rules(scenario),
        labels(scenario),
        _plan(view, task),
        cautions_for(methods),
    )
