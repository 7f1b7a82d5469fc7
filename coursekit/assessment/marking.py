"""Marks a paper: every task against the solver, with tolerances and carried forward."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from coursekit.assessment import feedback
from coursekit.assessment.bench import Bench
from coursekit.assessment.diagnosis import slips_that_fit, units_that_fit
from coursekit.assessment.feedback import Voice
from coursekit.assessment.marks import RIGHT, Paper, TaskMark, half_marks
from coursekit.assessment.named import mark_choice, mark_item, mark_items, mark_order
from coursekit.assessment.replies import QuantityReply, Reading, Reply, RigReply
from coursekit.assessment.rigs import mark_rig
from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Message, Problems, Show
from coursekit.rigging.solver import Solution
from coursekit.rigging.steps import Chain, SlipValue, Values
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
    return Desk(scenario, show).mark(replies)


class Desk:
    """Marks papers of one variation; the same answer on the same grounds is marked once."""

    def __init__(self, scenario: Scenario, show: Show) -> None:
        self.scenario = scenario
        self.bench = Bench(scenario, show)
        self._marks: dict[Hashable, TaskMark] = {}

    def mark(self, replies: Replies) -> Paper:
        """Return the marks of one paper."""
        own = self._own_solution(replies)
        return Paper(
            self.scenario, tuple(self._mark(task, replies, own) for task in self.scenario.tasks)
        )

    def _mark(self, task: AnyTask, replies: Replies, own: Solution | None) -> TaskMark:
        """Return the mark of one task, which hangs on nothing but what `grounds` names."""
        reply, is_own = replies.get(task.id), getattr(task, "rig", "") == OWN_RIG
        earlier = self._earlier(task, replies)
        grounds = (task.id, reply, tuple(earlier.items()), id(own) if is_own and own else None)
        if grounds not in self._marks:
            self._marks[grounds] = self._judged(_Sheet(self, task, reply, earlier, own))
        return self._marks[grounds]

    def _judged(self, sheet: _Sheet) -> TaskMark:
        task, reply = sheet.task, sheet.reply
        if isinstance(task, QuantityTask):
            return _without_own(sheet, _mark_quantity(sheet, task))
        if isinstance(task, RigTask):
            return mark_rig(self.bench, task, reply)
        if isinstance(task, ItemTask):
            return _without_own(sheet, mark_item(task, reply, sheet.solution(task.rig)))
        by_kind: dict[type, Callable[[Any, Reply | None], TaskMark]] = {
            ItemsTask: lambda t, r: mark_items(self.scenario, t, r),
            ChoiceTask: mark_choice,
            OrderTask: mark_order,
        }
        return by_kind[type(task)](task, reply)

    def _earlier(self, task: AnyTask, replies: Replies) -> dict[str, float]:
        """Return the student's own earlier answers that a quantity is asked after.

        Where a task before it has no answer to go by, those before that one stand in.
        """
        own: dict[str, float] = {}
        if not isinstance(task, QuantityTask):
            return own
        waiting, seen = list(task.after), {task.id}
        while waiting:
            earlier_id = waiting.pop(0)
            earlier, reply = self.scenario.task(earlier_id), replies.get(earlier_id)
            if earlier_id in seen or not isinstance(earlier, QuantityTask):
                continue
            seen.add(earlier_id)
            if isinstance(reply, QuantityReply) and reply.value is not None:
                own.setdefault(earlier.of, reply.value)
            else:
                waiting.extend(earlier.after)
        return own

    def _own_solution(self, replies: Replies) -> Solution | None:
        for task in self.scenario.tasks:
            reply = replies.get(task.id)
            if isinstance(task, RigTask) and isinstance(reply, RigReply) and reply.rig is not None:
                try:
                    return self.bench.solution(reply.rig)
                except (Problems, OutOfRange):
                    continue
        return None


@dataclass(frozen=True)
class _Sheet:
    """What marking one task needs at hand."""

    desk: Desk
    task: AnyTask
    reply: Reply | None
    earlier: Mapping[str, float]
    own: Solution | None

    def solution(self, rig: str) -> Solution | None:
        """Return the solution that a task is marked against."""
        if rig == OWN_RIG:
            return self.own or self.solution(GIVEN_RIG)
        bench = self.desk.bench
        return bench.solution(bench.scenario.rigs[rig]) if rig in bench.scenario.rigs else None


def _without_own(sheet: _Sheet, mark: TaskMark) -> TaskMark:
    """Take the marks away where the task asks of a rig that the student did not build."""
    if getattr(sheet.task, "rig", "") != OWN_RIG or sheet.own is not None:
        return mark
    return replace(mark, marks=0.0, feedback=(*mark.feedback, feedback.NO_OWN_RIG))


def _mark_quantity(sheet: _Sheet, task: QuantityTask) -> TaskMark:
    reply = sheet.reply if isinstance(sheet.reply, QuantityReply) else None
    solution = sheet.solution(task.rig)
    truth = None if solution is None else solution.values.get(task.of)
    if solution is None or not is_number(truth):
        verdict = "missing" if reply is None else "wrong"
        given = None if reply is None else reply.value
        return TaskMark(task.id, 0.0, task.marks, verdict, (feedback.NO_VALUE,), given=given)
    carried = _carried_values(task, solution, sheet.earlier)
    marker = _Quantity(sheet.desk.bench, task, solution, float(truth), carried)
    return marker.missing() if reply is None else marker.mark(reply)


def _carried_values(
    task: QuantityTask, solution: Solution, earlier: Mapping[str, float]
) -> Values | None:
    """Return the values with the student's own earlier answers in place, None where there are none.

    Carrying forward ends where a carried value is impossible.
    """
    own = {key: value for key, value in earlier.items() if key in solution.chain}
    if not own or any(_is_impossible(value, solution.values[key]) for key, value in own.items()):
        return None
    try:
        return solution.chain.carried(task.of, solution.values, own)
    except (OutOfRange, ValueError, ZeroDivisionError):
        return None


def _is_impossible(carried: float, value: Any) -> bool:
    """Whether an answer is zero or less where the value is more, or below zero where it is not."""
    if is_number(value) and value > 0.0:
        return carried <= 0.0
    return carried < 0.0 and not (is_number(value) and value < 0.0)


@dataclass(frozen=True)
class _Quantity:
    """Marks one quantity in the order of verdicts: right, carried, unit, slip, wrong."""

    bench: Bench
    task: QuantityTask
    solution: Solution
    truth: float
    carried: Values | None

    @property
    def chain(self) -> Chain:
        return self.solution.chain

    @property
    def voice(self) -> Voice:
        return Voice(self.bench.show, self.chain.step(self.task.of))

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
        for target in self.targets:
            fits = list(self._units(reply, target))
            if fits:
                words = [feedback.unit(self.voice, reply, fits, target)]
                words.extend(self._beside(is_own=target != self.truth))
                mark = self._mark(reply, "unit", UNIT_SHARE, words)
                return replace(mark, slips=("unit-slip",))
        return None

    def _units(self, reply: QuantityReply, target: float) -> Iterable[Reading]:
        if reply.value is None:
            # No unit, or one that could be several: the number itself may be right.
            accepts = self.task.tolerance.accepts
            return (reading for reading in reply.readings if accepts(reading.value, target))
        return units_that_fit(reply, target)

    def _slip(self, reply: QuantityReply) -> TaskMark | None:
        on_truth = self.bench.slips(self.solution, self.task.of)
        own: dict[int, SlipValue] = {}
        if self.carried is not None:
            own = {id(slip): slip for slip in self.chain.slips_at(self.task.of, self.carried)}
        found = slips_that_fit(reply, (*on_truth, *own.values()))
        if not found:
            return None
        words: list[Message] = []
        for slip in found:
            values = self.carried if self.carried and id(slip) in own else self.solution.values
            words.extend(feedback.slip(self.voice, slip, values))
        words.extend(self._beside(is_own=any(id(slip) in own for slip in found)))
        share = min(slip.slip.share for slip in found)
        mark = self._mark(reply, "slip", share, words)
        return replace(mark, slips=tuple(slip.slip.key for slip in found))

    def _beside(self, *, is_own: bool) -> list[Message]:
        """Return the truth beside what was said of the student's own earlier answers."""
        return [feedback.given_data(self.voice, self.truth)] if is_own else []

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
