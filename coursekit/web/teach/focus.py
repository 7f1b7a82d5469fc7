"""One task before the class: how many have it, the mistake most often made, and the strip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import cast

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.assessment.feedback import Voice, slip
from coursekit.assessment.marks import RIGHT
from coursekit.quantities.display import Direction, show
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.solver import Solution
from coursekit.rigging.steps import SlipValue, Step
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import is_number
from coursekit.scenario.tasks import OWN_RIG, AnyTask, QuantityTask
from coursekit.services.class_now import GivenMark, TaskNow
from coursekit.web.mistakes import UNIT_SLIP, mistake_name, slip_value, solution_of
from coursekit.web.subjects import subject
from coursekit.web.teach.strip import Answered, Landmark, Strip, lay_out
from coursekit.web.verdicts import VERDICTS
from coursekit.web.worded import worded

MISTAKEN = frozenset({"slip", "unit"})
# The strip names no more mistakes than a class can take in.
MOST_NAMED = 4


@dataclass(frozen=True)
class Mistake:
    """A usual mistake: how many made it, and what is to be said of it."""

    name: str
    count: int
    explanation: tuple[str, ...]


@dataclass(frozen=True)
class Tally:
    """How many answers were marked in one way."""

    verdict: str
    count: int


@dataclass(frozen=True)
class Drawn:
    """The strip with the words that stand beside it."""

    strip: Strip
    caption: str
    description: str


@dataclass(frozen=True)
class Focus:
    """The task that is before the class."""

    subject: str
    tallies: tuple[Tally, ...]
    mistake: Mistake | None
    drawn: Drawn | None
    unsure: int


def focus_on(scenario: Scenario, now: TaskNow) -> Focus:
    """Return a task as it is put before the class."""
    task = now.task
    solution = solution_of(scenario, task)
    return Focus(
        subject=subject(scenario, task),
        tallies=tuple(Tally(v, n) for v in VERDICTS for name, n in now.verdicts if name == v),
        mistake=most_often(scenario, now, solution),
        drawn=_drawn(scenario, now, solution),
        unsure=sum(mark.flagged for mark in now.marks),
    )


def right_of(now: TaskNow) -> int:
    """Return how many have the task, their own earlier answers carried on."""
    return sum(mark.verdict in RIGHT for mark in now.marks)


def answer_title(focus: Focus, now: TaskNow) -> str:
    """Return the title that answers: how many have it, and what went wrong most."""
    told = ngettext(
        "%(num)d of %(all)d has %(what)s",
        "%(num)d of %(all)d have %(what)s",
        right_of(now),
        all=len(now.marks),
        what=focus.subject,
    )
    if focus.mistake is None:
        return told
    return _("%(told)s; %(n)d: %(mistake)s", told=told, n=focus.mistake.count,
             mistake=focus.mistake.name)  # fmt: skip


def most_often(scenario: Scenario, now: TaskNow, solution: Solution | None) -> Mistake | None:
    """Return the mistake most often made, None where no usual one was seen."""
    if not now.slips:
        return None
    key, count = now.slips[0]
    name = mistake_name(now.task, solution, key)
    if key == UNIT_SLIP:
        told = _("The number is right in another unit than the one that was written.")
        return Mistake(name, count, (told,))
    found = slip_value(now.task, solution, key)
    if found is None or solution is None:
        return Mistake(name, count, ())
    return Mistake(name, count, tuple(_explained(scenario, now.task, solution, found)))


def _explained(
    scenario: Scenario, task: AnyTask, solution: Solution, found: SlipValue
) -> Iterator[str]:
    """Yield what is said of a mistake, with the scenario's own numbers."""
    truth = solution.values[task.of] if isinstance(task, QuantityTask) else None
    if not isinstance(task, QuantityTask) or not is_number(truth):
        return
    voice = Voice(shower(units_of(scenario)), solution.chain.step(task.of))
    # The first sentence only names the mistake, and the heading has its name.
    _named, *rest = slip(voice, found, solution.values)
    yield from (worded(scenario, message) for message in rest)


def _drawn(scenario: Scenario, now: TaskNow, solution: Solution | None) -> Drawn | None:
    task = now.task
    if not isinstance(task, QuantityTask) or solution is None:
        return None
    truth = solution.values[task.of]
    marks = [m for m in now.marks if is_number(m.given) and is_number(m.truth)]
    if not is_number(truth) or not marks:
        return None
    same = len({mark.truth for mark in marks}) == 1
    ruler = (
        _Ruler.in_unit(scenario, solution.chain.step(task.of), task)
        if same
        else _Ruler.shares(task)
    )
    own = float(marks[0].truth) if same else float(truth)
    answers = [Answered(ruler.place(m.given, m.truth), _kind(m)) for m in marks]
    strip = lay_out(
        answers,
        Landmark(ruler.place(own, own), _("truth %(value)s", value=ruler.text(own, own))),
        ruler.band(task, own),
        tuple(_landmarks(now, task, solution, ruler)),
    )
    return Drawn(strip, ruler.caption, _description(strip, marks))


@dataclass(frozen=True)
class _Ruler:
    """What the strip measures in: a unit, or shares where each has numbers of their own."""

    caption: str
    kind: Kind | None = None
    unit: str = ""
    rounds: Direction = "nearest"

    @classmethod
    def in_unit(cls, scenario: Scenario, step: Step, task: QuantityTask) -> _Ruler:
        kind = Kind.of_si(step.unit)
        unit = task.unit or units_of(scenario)[kind]
        rounds = cast("Direction", step.rounds)
        told = _("One shape for each answer, in %(unit)s.", unit=unit) if unit else ""
        return cls(told or _("One shape for each answer."), kind, unit, rounds)

    @classmethod
    def shares(cls, task: QuantityTask) -> _Ruler:
        if task.rig == OWN_RIG:
            why = _("each built a rig of their own")
        else:
            why = _("each has numbers of their own")
        return cls(
            _("One shape for each answer, as a share of its own student's truth: %(why)s.", why=why)
        )

    def place(self, value: float, truth: float) -> float:
        return value if self.kind else value / truth if truth else 1.0

    def text(self, value: float, truth: float) -> str:
        if self.kind is None:
            return f"{100 * self.place(value, truth):.0f} %"
        return show(value, self.kind, self.unit, self.rounds)

    def band(self, task: QuantityTask, truth: float) -> tuple[float, float]:
        low, high = task.tolerance.band(truth)
        return self.place(low, truth), self.place(high, truth)


def _kind(mark: GivenMark) -> str:
    if mark.verdict in RIGHT:
        return "right"
    return "slip" if mark.verdict in MISTAKEN else "other"


def _landmarks(
    now: TaskNow, task: QuantityTask, solution: Solution, ruler: _Ruler
) -> Iterator[Landmark]:
    truth = solution.values[task.of]
    for key, _count in now.slips[:MOST_NAMED]:
        found = slip_value(task, solution, key)
        if found is not None and is_number(found.value):
            value = float(found.value)
            text = f"{found.slip.title.text(_)} {ruler.text(value, truth)}"
            yield Landmark(ruler.place(value, truth), text)


def _description(strip: Strip, marks: Sequence[GivenMark]) -> str:
    kinds = [_kind(mark) for mark in marks]
    told = _(
        "%(right)d answers count as right, %(slips)d meet a usual mistake, %(other)d neither.",
        right=kinds.count("right"),
        slips=kinds.count("slip"),
        other=kinds.count("other"),
    )
    landmarks = "; ".join(" ".join(text for text, _y in label.lines) for label in strip.labels)
    return f"{told} {landmarks}."
