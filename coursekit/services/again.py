"""What becomes of one paper when it is marked again; nothing is written here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from sqlalchemy.orm import Session

from coursekit.assessment.moderation import Held, by_hand, moves, settled
from coursekit.assessment.refit import misfit
from coursekit.problems import Message, Problems
from coursekit.scenario.model import Scenario
from coursekit.services.marking import Marker
from coursekit.services.policies import PolicyVersion, rule_by
from coursekit.services.sheets import (
    Sheet,
    said_document,
    sheet_document,
    sheet_of,
)
from coursekit.services.versions import scenario_of
from coursekit.store import queries, tables
from coursekit.store.queries.runs import RunRow, WrittenPaper

Variation = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Again:
    """What a run keeps of one paper, as the columns of its row."""

    columns: Mapping[str, Any]


@dataclass(frozen=True)
class Desk:
    """So many papers of a run with all that marking them again takes.

    The papers of one variation lie together and share a marker.
    """

    run: RunRow
    document: str
    locale: str
    papers: tuple[WrittenPaper, ...]
    answers: Mapping[int, Mapping[str, Any]]
    counting: Mapping[int, tables.AttemptResult]
    machine: Mapping[int, tables.AttemptResult]
    held: Mapping[int, tuple[Held, ...]]
    policies: tuple[PolicyVersion, ...]
    _marker: dict[Variation, Marker] = field(default_factory=dict)
    _fits: dict[str, bool] = field(default_factory=dict)

    def again(self, paper: WrittenPaper) -> Again:
        """Return what becomes of one paper."""
        try:
            corrected = scenario_of(self.document, paper.variation)
        except Problems as found:
            return self._refused(paper, Message("{problem}", {"problem": str(found.items[0])}))
        why = self._misfit(paper, corrected)
        return self._refused(paper, why) if why else self._marked(paper, corrected)

    @cached_property
    def _corrected(self) -> Scenario:
        return scenario_of(self.document, {})

    def _misfit(self, paper: WrittenPaper, corrected: Scenario) -> Message | None:
        """Return why a paper does not fit; versions that fit as they stand fit in any numbers."""
        if paper.document not in self._fits:
            written = scenario_of(paper.document, {})
            self._fits[paper.document] = misfit(written, self._corrected) is None
        if self._fits[paper.document]:
            return None
        return misfit(scenario_of(paper.document, paper.variation), corrected)

    def _marked(self, paper: WrittenPaper, corrected: Scenario) -> Again:
        before, solver = self.counting[paper.result_id], self.machine[paper.attempt_id]
        found = self._marker_of(paper, corrected).paper(self.answers.get(paper.attempt_id, {}))
        excused = [stop for stop in solver.stops if stop not in before.stops]
        added = [stop for stop in before.stops if stop not in solver.stops]
        new = [
            Held(
                mark.task,
                mark.marks,
                mark.out_of,
                mark.verdict,
                is_unsafe=any(said_document(stop) not in excused for stop in mark.stops),
            )
            for mark in found.tasks
        ]
        kept = self.held[before.id]
        hand = by_hand(_by_task(self.held[solver.id]), _by_task(kept))
        held = settled(kept, new, hand, may_fall=self.run.may_fall)
        sheet = sheet_of(found).with_marks({one.task: one.marks for one in held})
        stops = [stop for stop in sheet.stops if stop not in excused]
        stops += [stop for stop in added if stop not in stops]
        return self._kept(paper, corrected, replace(sheet, stops=tuple(stops)))

    def _kept(self, paper: WrittenPaper, corrected: Scenario, sheet: Sheet) -> Again:
        counting = self.counting[paper.result_id]
        rule = rule_by(counting.policy_number, counting.pass_share, corrected, self.policies)
        outcome = sheet.decision(corrected, rule).outcome
        moved = moves(self.held[counting.id], sheet.held)
        other_stops = list(sheet.stops) != list(counting.stops)
        decided = {"outcome": outcome, "rule": (rule.policy, rule.pass_share)}
        return self._row(
            paper,
            refusal=None,
            sheet={**sheet_document(sheet), **decided},
            moves=[(one.task, one.before, one.after, one.out_of) for one in moved],
            outcome_after=outcome,
            marks_after=sheet.marks,
            is_moved=bool(moved) or other_stops or outcome != counting.outcome,
        )

    def _refused(self, paper: WrittenPaper, why: Message) -> Again:
        counting = self.counting[paper.result_id]
        return self._row(
            paper,
            refusal=said_document(why),
            sheet=None,
            moves=[],
            outcome_after=counting.outcome,
            marks_after=counting.marks,
            is_moved=True,
        )

    def _row(self, paper: WrittenPaper, **found: Any) -> Again:
        counting = self.counting[paper.result_id]
        seen = {"attempt_id": paper.attempt_id, "attempt_result_id": paper.result_id}
        before = {"outcome_before": counting.outcome, "marks_before": counting.marks}
        return Again({**seen, **before, **found})

    def _marker_of(self, paper: WrittenPaper, corrected: Scenario) -> Marker:
        at = tuple(sorted(paper.variation.items()))
        if at not in self._marker:
            # One at a time: the next variation has other numbers, and the last ones are done.
            self._marker.clear()
            self._marker[at] = Marker(corrected, self.locale)
        return self._marker[at]


def desk_for(session: Session, school_id: int, run: RunRow, most: int) -> Desk:
    """Return the next papers of a run with all that marking them takes: 11 queries."""
    papers = queries.runs.waiting(session, run, school_id, most)
    attempts = [paper.attempt_id for paper in papers]
    counting = queries.runs.results(session, [paper.result_id for paper in papers])
    machine = queries.runs.machine_results(session, attempts)
    earned = queries.results.earned(session, {*counting, *(row.id for row in machine.values())})
    return Desk(
        run=run,
        document=session.get_one(tables.ScenarioVersion, run.version_id).document,
        locale=queries.schools.one_school(session, school_id).locale,
        papers=papers,
        answers=queries.classes.answers_of(session, attempts),
        counting=counting,
        machine=machine,
        held={
            result_id: tuple(Held(task.task_id, task.marks, task.out_of) for task in tasks)
            for result_id, tasks in earned.items()
        },
        policies=queries.policies.versions(session, school_id),
    )


def _by_task(held: Sequence[Held]) -> dict[str, float]:
    return {one.task: one.marks for one in held}
