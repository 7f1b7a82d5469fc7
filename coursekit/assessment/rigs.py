"""Marks a rig by solving it, never by comparing it with a model answer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from coursekit.assessment.bench import Bench
from coursekit.assessment.feedback import NOT_ANSWERED
from coursekit.assessment.marks import TaskMark, half_marks
from coursekit.assessment.relief import relief
from coursekit.assessment.replies import Reply, RigReply
from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Message, Problems
from coursekit.rigging.rules.finding import Finding
from coursekit.rigging.rules.loads import LOW_MARGIN, stalls_as_one
from coursekit.rigging.solver import Solution
from coursekit.scenario.offer import is_good
from coursekit.scenario.tasks import RIG_MARKS, RigTask

_LEAVES_STUCK = {"reaches": "As built it would not bring the vehicle out."}
# Said of a good rig only: what is unsafe, or leaves the vehicle stuck, has other worries.
_COULD_BE_BETTER = {
    "margin": "It holds with little to spare: something uses more than 80 % of its limit.",
    "economy": "The same can be done with {pieces} pieces, and this rig has {own}.",
}


_NAMED_ONLY = Message(
    "Only the rigs of the scenario were compared: there are too many to look at them all."
)


def mark_rig(bench: Bench, task: RigTask, reply: Reply | None) -> TaskMark:
    """Return the mark of a rig task; the bench solves the rig and words what was found."""
    if not isinstance(reply, RigReply):
        return TaskMark(task.id, 0.0, task.marks, "missing", (NOT_ANSWERED,))
    if reply.rig is None:
        return _unsolved(task, reply.problems)
    try:
        solution = bench.solution(reply.rig)
    except Problems as error:
        return _unsolved(task, error.items)
    except OutOfRange as error:
        return _unsolved(task, (error,))
    return _solved(bench, task, solution)


def _unsolved(task: RigTask, problems: tuple[object, ...]) -> TaskMark:
    words = tuple(Message("{problem}", {"problem": problem}) for problem in problems)
    said = Message("This rig can't be solved.")
    return TaskMark(task.id, 0.0, task.marks, "wrong", (said, *words))


def _solved(bench: Bench, task: RigTask, solution: Solution) -> TaskMark:
    scheme = task.scheme or {"safe": task.marks}
    earned = earned_parts(bench, solution)
    marks = half_marks(sum(scheme.get(part, 0.0) for part in earned))
    findings = tuple(replace(f, message=f.message.shown(bench.show)) for f in solution.findings)
    stops = tuple(finding.message.shown(bench.show) for finding in solution.stops)
    missed = _COULD_BE_BETTER if is_good(solution) else _LEAVES_STUCK
    lost = [part for part in scheme if part in missed and part not in earned]
    counts = _counts(bench, solution) if "economy" in lost else {}
    words = [
        *_stopping(bench, solution, findings),
        *(Message(missed[part], counts) for part in lost),
        *(found.message for found in stalls_as_one(findings) if found.severity == "major"),
    ]
    if counts and "economy" in missed and not bench.thrift(solution.rig).is_searched:
        words.append(_NAMED_ONLY)
    return TaskMark(
        task.id,
        marks,
        task.marks,
        _verdict(marks, task.marks),
        _once(words) or (Message("The rig holds and does the job."),),
        solution=solution,
        findings=findings,
        stops=stops,
    )


def _stopping(bench: Bench, solution: Solution, findings: Sequence[Finding]) -> Iterator[Message]:
    """Yield what stops the rig, each with what at hand would hold in its place."""
    also = solution.situation.policy.stop_on
    for found in stalls_as_one(findings):
        if found.stops(also):
            yield found.message
            better = relief(bench, solution, found)
            if better is not None:
                yield better


def _counts(bench: Bench, solution: Solution) -> dict[str, object]:
    return {"pieces": f"{bench.thrift(solution.rig).pieces:g}", "own": str(solution.rig.pieces)}


def _once(words: list[Message]) -> tuple[Message, ...]:
    return tuple({str(message): message for message in words}.values())


def _verdict(marks: float, out_of: float) -> str:
    if marks >= out_of:
        return "right"
    return "part" if marks > 0.0 else "wrong"


def earned_parts(bench: Bench, solution: Solution) -> tuple[str, ...]:
    """Return which parts of a scheme a rig earns; spare and thrift count only for a good rig."""
    good = is_good(solution)
    holds = {
        "safe": not solution.stops,
        "reaches": solution.does_the_job,
        "margin": good and all(use.use <= LOW_MARGIN for use in solution.uses),
        "economy": good and solution.rig.pieces <= bench.thrift(solution.rig).pieces,
    }
    return tuple(part for part in RIG_MARKS if holds[part])
