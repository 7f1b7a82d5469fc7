"""Marks a paper: every task against the solver, with tolerances and carried forward."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from coursekit.assessment import feedback
from coursekit.assessment.diagnosis import slips_that_fit, units_that_fit
from coursekit.assessment.feedback import Voice
from coursekit.assessment.marks import RIGHT, Paper, TaskMark, half_marks
from coursekit.assessment.named import mark_choice, mark_item, mark_items, mark_order
from coursekit.assessment.replies import QuantityReply, Reply, RigReply
from coursekit.assessment.rigs import mark_rig
from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Message, Problems, Show
from coursekit.rigging.solver import Solution, solve
from coursekit.rigging.steps import Chain, Values
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import is_number
from coursekit.scenario.tasks import (
    GIVEN_RIG,
    OWN_RIG,
    AnyTask,
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
    RigTask,
)

# A right number in a wrong unit keeps half its marks.
UNIT_SHARE = 0.5

Replies = Mapping[str, Reply | None]


def mark_paper(scenario: Scenario, replies: Replies, show: Show) -> Paper:
    """Return the marks of a set of replies, task by task in the scenario's order.

    `show` words a value with its unit (see `problems.Show`).
    """
    desk = _Desk(scenario, replies, show, _own_solution(scenario, replies))
    return Paper(scenario, tuple(_mark(desk, task) for task in scenario.tasks))


@dataclass(frozen=True)
class _Desk:
    """What marking one paper needs at hand."""

    scenario: Scenario
    replies: Replies
    show: Show
    own: Solution | None
    # Several tasks ask of one rig: it is solved once a paper.
    named: dict[str, Solution] = field(default_factory=dict)

    def solution(self, rig: str) -> Solution | None:
        """Return the solution that a task is marked against."""
        if rig == OWN_RIG:
            return self.own or self.solution(GIVEN_RIG)
        if rig not in self.named and rig in self.scenario.rigs:
            self.named[rig] = solve(self.scenario.situation, self.scenario.rigs[rig])
        return self.named.get(rig)


def _own_solution(scenario: Scenario, replies: Replies) -> Solution | None:
    for task in scenario.tasks:
        reply = replies.get(task.id)
        if isinstance(task, RigTask) and isinstance(reply, RigReply) and reply.rig is not None:
            try:
                return solve(scenario.situation, reply.rig)
            except (Problems, OutOfRange):
                continue
    return None


def _mark(desk: _Desk, task: AnyTask) -> TaskMark:
    reply = desk.replies.get(task.id)
    if isinstance(task, QuantityTask):
        return _mark_quantity(desk, task, reply if isinstance(reply, QuantityReply) else None)
    if isinstance(task, RigTask):
        return mark_rig(desk.scenario, task, reply, desk.show)
    if isinstance(task, ItemTask):
        mark = mark_item(task, reply, desk.solution(task.rig))
        return _without_own(desk, task, mark)
    by_kind: dict[type, Callable[[Any, Reply | None], TaskMark]] = {
        ItemsTask: lambda t, r: mark_items(desk.scenario, t, r),
        ChoiceTask: mark_choice,
        OrderTask: mark_order,
    }
    return by_kind[type(task)](task, reply)


def _without_own(desk: _Desk, task: QuantityTask | ItemTask, mark: TaskMark) -> TaskMark:
    """Take the marks away where the task asks of a rig that the student did not build."""
    if task.rig != OWN_RIG or desk.own is not None:
        return mark
    return replace(mark, marks=0.0, feedback=(*mark.feedback, feedback.NO_OWN_RIG))


def _mark_quantity(desk: _Desk, task: QuantityTask, reply: QuantityReply | None) -> TaskMark:
    solution = desk.solution(task.rig)
    truth = None if solution is None else solution.values.get(task.of)
    if solution is None or not is_number(truth):
        verdict = "missing" if reply is None else "wrong"
        given = None if reply is None else reply.value
        return TaskMark(task.id, 0.0, task.marks, verdict, (feedback.NO_VALUE,), given=given)
    marker = _Quantity(desk, task, solution, float(truth), _carried_values(desk, task, solution))
    mark = marker.missing() if reply is None else marker.mark(reply)
    return _without_own(desk, task, mark)


def _carried_values(desk: _Desk, task: QuantityTask, solution: Solution) -> Values | None:
    """Return the fold with the student's own earlier answers in place, None where there are none.

    Carrying forward ends where a carried value is impossible.
    """
    own = {}
    for earlier_id in task.after:
        earlier, reply = desk.scenario.task(earlier_id), desk.replies.get(earlier_id)
        if not isinstance(earlier, QuantityTask) or not isinstance(reply, QuantityReply):
            continue
        if reply.value is not None and earlier.of in solution.chain:
            own[earlier.of] = reply.value
    if not own or any(_is_impossible(value, solution.values[key]) for key, value in own.items()):
        return None
    try:
        return solution.chain.fold(own)
    except (OutOfRange, ValueError, ZeroDivisionError):
        return None


def _is_impossible(carried: float, value: Any) -> bool:
    """Whether an answer is below zero where the value is not, or where there is none."""
    return carried < 0.0 and not (is_number(value) and value < 0.0)


@dataclass(frozen=True)
class _Quantity:
    """Marks one quantity in the order of verdicts: right, carried, unit, slip, wrong."""

    desk: _Desk
    task: QuantityTask
    solution: Solution
    truth: float
    carried: Values | None

    @property
    def chain(self) -> Chain:
        return self.solution.chain

    @property
    def voice(self) -> Voice:
        return Voice(self.desk.show, self.chain.step(self.task.of))

    @property
    def expected(self) -> float:
        value = self.truth if self.carried is None else self.carried[self.task.of]
        return float(value) if is_number(value) else self.truth

    @property
    def targets(self) -> tuple[float, ...]:
        return tuple(dict.fromkeys((self.truth, self.expected)))

    def missing(self) -> TaskMark:
        return self._mark(None, "missing", 0.0, [feedback.missing(self.voice, self.truth)])

    def mark(self, reply: QuantityReply) -> TaskMark:
        accepts = self.task.tolerance.accepts
        if reply.value is not None and accepts(reply.value, self.truth):
            flagged = not accepts(self.expected, self.truth)
            words = feedback.right(self.voice, self.truth, flagged=flagged)
            return replace(self._mark(reply, "right", 1.0, [words]), flagged=flagged)
        if reply.value is not None and accepts(reply.value, self.expected):
            words = feedback.carried(self.voice, self.truth, self.expected)
            return self._mark(reply, "carried", 1.0, [words])
        return self._unit(reply) or self._slip(reply) or self._wrong(reply)

    def _unit(self, reply: QuantityReply) -> TaskMark | None:
        if reply.value is None:
            # No unit, or one that could be several: the number itself may be right.
            accepts = self.task.tolerance.accepts
            fits = [r for r in reply.readings if any(accepts(r.value, t) for t in self.targets)]
        else:
            fits = list(units_that_fit(reply, self.targets))
        if not fits:
            return None
        words = feedback.unit(self.voice, reply, fits, self.truth)
        mark = self._mark(reply, "unit", UNIT_SHARE, [words])
        return replace(mark, slips=("unit-slip",))

    def _slip(self, reply: QuantityReply) -> TaskMark | None:
        folds = [self.solution.values]
        if self.carried is not None:
            folds.append(self.carried)
        found = slips_that_fit(reply, self.chain, self.task.of, folds)
        if not found:
            return None
        words: list[Message] = []
        for slip in found:
            words.extend(feedback.slip(self.voice, slip, self.solution.values, self.truth))
        share = min(slip.slip.share for slip in found)
        mark = self._mark(reply, "slip", share, words)
        return replace(mark, slips=tuple(slip.slip.key for slip in found))

    def _wrong(self, reply: QuantityReply) -> TaskMark:
        return self._mark(reply, "wrong", 0.0, [feedback.wrong(self.voice, self.truth)])

    def _mark(
        self, reply: QuantityReply | None, verdict: str, share: float, words: list[Message]
    ) -> TaskMark:
        full = verdict in RIGHT
        notes = [] if reply is None else list(feedback.note(reply))
        return TaskMark(
            self.task.id,
            self.task.marks if full else half_marks(self.task.marks * share),
            self.task.marks,
            verdict,
            (*words, *notes),
            given=None if reply is None else reply.value,
            truth=self.truth,
            expected=self.expected,
            solution=self.solution,
        )
