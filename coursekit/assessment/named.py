"""Marks answers that name things: an item, a set of items, a choice, an order.

Choices that decide safety are judged at the true load, never at the student's
own wrong one.
"""

from __future__ import annotations

from bisect import bisect_left
from typing import Any

from coursekit.assessment.feedback import NO_VALUE, NOT_ANSWERED
from coursekit.assessment.marks import TaskMark, half_marks
from coursekit.assessment.replies import NameReply, NamesReply, Reply
from coursekit.problems import Message
from coursekit.rigging.solver import Solution
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import ChoiceTask, ItemsTask, ItemTask, OrderTask, Task


def _mark(task: Task, verdict: str, marks: float, words: list[Message], **more: Any) -> TaskMark:
    return TaskMark(task.id, marks, task.marks, verdict, tuple(words), **more)


def mark_item(task: ItemTask, reply: Reply | None, solution: Solution | None) -> TaskMark:
    """Return the mark of naming the weakest item; ties all count."""
    weakest = solution.weakest if solution else None
    if solution is None or weakest is None:
        return _mark(task, "wrong" if reply else "missing", 0.0, [NO_VALUE])
    near = 1e-9 * max(1.0, weakest.use)
    accepted = {use.item for use in solution.uses if weakest.use - use.use <= near}
    words = Message(
        "{item} uses most of its limit: {use:.0f} %.",
        {"item": weakest.item, "use": weakest.use * 100.0},
    )
    truth = {"truth": weakest.item, "expected": weakest.item, "solution": solution}
    if not isinstance(reply, NameReply):
        return _mark(task, "missing", 0.0, [NOT_ANSWERED, words], **truth)
    right = reply.name in accepted
    verdict, marks = ("right", task.marks) if right else ("wrong", 0.0)
    return _mark(task, verdict, marks, [words], given=reply.name, **truth)


def mark_items(scenario: Scenario, task: ItemsTask, reply: Reply | None) -> TaskMark:
    """Return the mark of naming the unfit gear: one share for each found, less false ones."""
    gear = scenario.situation.gear
    wanted = frozenset(name for name, item in gear.items() if item.condition)
    truth = {"truth": sorted(wanted), "expected": sorted(wanted)}
    if not isinstance(reply, NamesReply):
        return _mark(task, "missing", 0.0, [NOT_ANSWERED], **truth)
    named = frozenset(reply.names)
    hits, false = len(named & wanted), len(named - wanted)
    share = max(0, hits - false) / len(wanted) if wanted else float(not named)
    marks = task.marks if named == wanted else half_marks(task.marks * share)
    verdict = "right" if named == wanted else ("part" if marks else "wrong")
    words = _items_words(wanted, named)
    return _mark(task, verdict, marks, words, given=sorted(named), **truth)


def _items_words(wanted: frozenset[str], named: frozenset[str]) -> list[Message]:
    words = []
    if named == wanted:
        words.append(Message("Right: what must stay out is out, and nothing else."))
    if wanted - named:
        missed = ", ".join(sorted(wanted - named))
        words.append(Message("{missed} must stay out of use too.", {"missed": missed}))
    if named - wanted:
        fit = ", ".join(sorted(named - wanted))
        words.append(Message("Nothing is wrong with {fit}.", {"fit": fit}))
    return words


def mark_choice(task: ChoiceTask, reply: Reply | None) -> TaskMark:
    """Return the mark of a choice; a wrong critical one makes the outcome unsafe."""
    truth = {"truth": task.answer, "expected": task.answer}
    because = [Message("{because}", {"because": task.because})] if task.because else []
    if not isinstance(reply, NameReply):
        return _mark(task, "missing", 0.0, [NOT_ANSWERED, *because], **truth)
    if reply.name == task.answer:
        return _mark(task, "right", task.marks, because, given=reply.name, **truth)
    if reply.name not in task.options:
        nothing = Message("That is none of the options.")
        return _mark(task, "wrong", 0.0, [nothing, *because], given=reply.name, **truth)
    chosen = task.options[reply.name]
    stop = Message("Choosing '{chosen}' here is unsafe.", {"chosen": chosen})
    stops = (stop,) if task.critical else ()
    words = [*stops, *because]
    return _mark(task, "wrong", 0.0, words, given=reply.name, stops=stops, **truth)


def mark_order(task: OrderTask, reply: Reply | None) -> TaskMark:
    """Return the mark of an order: by its longest correct run, of which one thing is no merit."""
    truth = {"truth": list(task.items), "expected": list(task.items)}
    right_order = Message("The order is: {order}.", {"order": "; ".join(task.items)})
    if not isinstance(reply, NamesReply):
        return _mark(task, "missing", 0.0, [NOT_ANSWERED, right_order], **truth)
    given = {"given": list(reply.names)}
    if reply.names == task.items:
        return _mark(task, "right", task.marks, [Message("Right.")], **given, **truth)
    steps = max(len(task.items), len(reply.names)) - 1
    share = (longest_run(task.items, reply.names) - 1) / steps
    marks = half_marks(task.marks * max(0.0, share))
    verdict = "part" if marks else "wrong"
    return _mark(task, verdict, marks, [right_order], **given, **truth)


def longest_run(wanted: tuple[str, ...], given: tuple[str, ...]) -> int:
    """Return how many things stand in the wanted order when the others are taken out.

    >>> longest_run(("a", "b", "c", "d"), ("b", "c", "d", "a"))
    3
    >>> longest_run(("a", "b", "c", "d"), ("d", "c", "b", "a", "x"))
    1
    """
    place = {name: index for index, name in enumerate(wanted)}
    # For each run length the earliest place in which such a run can end.
    ends: list[int] = []
    for name in given:
        if name in place:
            at = bisect_left(ends, place[name])
            ends[at : at + 1] = [place[name]]
    return len(ends)
