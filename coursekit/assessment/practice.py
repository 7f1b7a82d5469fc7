"""Practice between classes: what a student should try next, and when again.

A skill is what a task asks for, whatever the scenario: the total resistance, the
load on a place, the limit of an item, a decision, a rig.  When it comes up again
follows from an open spacing algorithm, FSRS; fuzz is off, so that the same tries
give the same dates.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, cast

from fsrs import Card, Rating, Scheduler
from fsrs.card import CardDict

from coursekit.assessment.marks import RIGHT
from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Problems
from coursekit.rigging.solver import solve
from coursekit.scenario.alone import rig_about
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import (
    AnyTask,
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
    RigTask,
)

# A step that failed comes back in the same sitting; what was right, from the next day on.
_SITTING = (timedelta(minutes=10),)
_SCHEDULER = Scheduler(
    learning_steps=_SITTING,
    relearning_steps=_SITTING,
    maximum_interval=365,
    enable_fuzzing=False,
)
_RATINGS = {
    "right": Rating.Good,
    "carried": Rating.Good,
    "unit": Rating.Hard,
    "part": Rating.Hard,
}
# What tasks ask for that work no step.
_WITHOUT_STEPS: Mapping[type, str] = {
    ItemTask: "weakest",
    ItemsTask: "unfit",
    ChoiceTask: "decision",
    OrderTask: "order",
    RigTask: "rig",
}
# A first sitting of about ten minutes; two minutes a question: common practice, no source.
QUESTIONS_OF_A_SITTING = 5

# The state of the algorithm for one skill, as it is stored.
State = Mapping[str, Any]


@dataclass(frozen=True)
class Skill:
    """One skill of one student: how it went in class, and in practice so far.

    `state` is None before the first try; `due` is then None too.  `slip_confirmed_at` is
    when the student last said, after a diagnosis, that it was that slip.
    """

    key: str
    in_class: tuple[str, ...] = ()
    tries: int = 0
    right: int = 0
    state: State | None = None
    slip_confirmed_at: datetime | None = None

    @property
    def slip_is_fresh(self) -> bool:
        """Whether a slip of it was confirmed and it was not tried since."""
        if self.slip_confirmed_at is None or self.state is None:
            return self.slip_confirmed_at is not None
        last = _card(self.state).last_review
        return last is None or last < self.slip_confirmed_at

    @property
    def due(self) -> datetime | None:
        """When it should be tried again, None before the first try."""
        return None if self.state is None else _card(self.state).due

    @property
    def missed(self) -> float:
        """The share of its tasks in class that went wrong, 0 where it was never asked."""
        wrong = sum(verdict not in RIGHT for verdict in self.in_class)
        return wrong / len(self.in_class) if self.in_class else 0.0

    @property
    def was_weak_in_class(self) -> bool:
        """Whether it went wrong in class at least once."""
        return self.missed > 0.0

    def is_due(self, now: datetime) -> bool:
        """Whether it should be tried now."""
        return self.slip_is_fresh or self.due is None or self.due <= now

    def retention(self, now: datetime) -> float | None:
        """Return the chance that it would go right now, None before the first try."""
        return None if self.state is None else retention(self.state, now)


def skill_of(task: AnyTask) -> str:
    """Return the skill that a task asks for.

    >>> skill_of(QuantityTask("oak-load", 1.0, of="place.oak.load"))
    'place.load'
    >>> skill_of(ChoiceTask("go", 1.0))
    'decision'
    """
    if isinstance(task, QuantityTask):
        return skill_of_step(task.of)
    return _WITHOUT_STEPS[type(task)]


def skill_of_slip(scenario: Scenario, task: AnyTask, slip: str) -> str | None:
    """Return the skill of the step in which a slip is made, of a task where it was seen.

    None where the slip is of no step, as a wrong unit is.
    """
    rig = rig_about(scenario, task)
    if not isinstance(task, QuantityTask) or rig is None:
        return None
    try:
        chain = solve(scenario.situation, rig).chain
    except (Problems, OutOfRange):
        return None
    if task.of not in chain:
        return None
    steps = (chain.step(task.of), *chain.upstream(task.of))
    made = (step.key for step in steps for one in step.slips if one.key == slip)
    return next(map(skill_of_step, made), None)


def skill_of_step(key: str) -> str:
    """Return the skill of working a step, whatever place or item it is of.

    >>> skill_of_step("item.rope.limit")
    'item.limit'
    """
    first, _dot, rest = key.partition(".")
    if first in ("place", "item"):
        return f"{first}.{rest.rpartition('.')[2]}"
    return key


def after_try(state: State | None, verdict: str, at: datetime) -> State:
    """Return the state of a skill after one more try.

    `verdict` is that of marking; `at` must be aware.  Right counts as good, a right
    number in a wrong unit and a part of the marks as hard, all else as forgotten.
    Source: FSRS-6, an open algorithm, by its own package.

    >>> from datetime import UTC
    >>> first = after_try(None, "right", datetime(2026, 6, 1, 9, tzinfo=UTC))
    >>> wrong = after_try(None, "slip", datetime(2026, 6, 1, 9, tzinfo=UTC))
    >>> first["due"] > wrong["due"]
    True
    """
    rating = _RATINGS.get(verdict, Rating.Again)
    card = Card(card_id=0, due=at) if state is None else _card(state)
    reviewed, _log = _SCHEDULER.review_card(card, rating, at)
    return dict(reviewed.to_dict())


def retention(state: State, now: datetime) -> float:
    """Return the chance that a skill would go right now, 0 to 1."""
    return float(_SCHEDULER.get_card_retrievability(_card(state), now))


def in_order(skills: Iterable[Skill], now: datetime) -> tuple[Skill, ...]:
    """Return skills with the one to try next first.

    A slip that was confirmed comes before all.  What is due stands before what is not.  Of
    what is due, what went wrong in class and was not tried since comes first, the larger
    share of it before the smaller, then what is likeliest forgotten, then what was never
    seen; what is not due follows by its date.
    """
    return tuple(sorted(skills, key=lambda skill: _rank(skill, now)))


def _rank(skill: Skill, now: datetime) -> tuple[int, float, str]:
    if skill.slip_is_fresh:
        return (-1, 0.0, skill.key)
    if skill.state is None:
        if skill.was_weak_in_class:
            return (0, -skill.missed, skill.key)
        return (3 if skill.in_class else 2, 0.0, skill.key)
    card = _card(skill.state)
    if card.due <= now:
        return (1, retention(skill.state, now), skill.key)
    return (4, card.due.timestamp(), skill.key)


def _card(state: State) -> Card:
    return Card.from_dict(cast("CardDict", dict(state)))
