"""Answers marked again in a second: where students share their numbers, and where none do.

`BENCH_PAPERS=15000` looks at 100,000 stored answers.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from time import perf_counter
from typing import Any

import pytest
from sqlalchemy import insert, select

from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import (
    canonical_document,
    read_scenario,
    read_scenario_text,
    scenario_from_document,
)
from coursekit.scenario.model import Scenario
from coursekit.scenario.vary import Variation, vary
from coursekit.services import marking_again, preparing, teaching
from coursekit.services.marking import Marker
from coursekit.services.marking_again import Wish
from coursekit.services.sheets import Kept, Made, keep_sheets, sheet_of
from coursekit.store import tables
from coursekit.store.unit import Unit
from tests.benchmarks.conftest import Report
from tests.benchmarks.simulated_papers import Class
from tests.cast import Cast
from tests.shell.files.ford import FILE, FORD, changed

pytestmark = pytest.mark.benchmark

SHARED, ALONE = 300, 3
PAPERS = int(os.environ.get("BENCH_PAPERS", "1500"))
VARIATIONS = 30
WIDER = ("tolerance: {below: 3 %, above: 8 %}", "tolerance: {below: 30 %, above: 30 %}")

Batch = tuple[Scenario, list[dict[str, Any]]]


def scenarios() -> Iterator[Scenario]:
    for path in sorted(resource_dir("scenarios").glob("*.yaml")):
        yield read_scenario(path)


def batches(seeds: range, papers: int) -> list[Batch]:
    """Return papers of every scenario, so many at each of its variations."""
    varied = [vary(scenario, seed).scenario for scenario in scenarios() for seed in seeds]
    classes = [Class(one, 3) for one in varied]
    return [(one.varied, [one.paper() for _ in range(papers)]) for one in classes]


def seconds(batch: Batch) -> float:
    """Return how long it takes to mark a batch."""
    scenario, papers = batch
    begun = perf_counter()
    marker = Marker(scenario, "en")
    for paper in papers:
        marker.paper(paper)
    return perf_counter() - begun


def answers(batch: Batch) -> int:
    return len(batch[0].tasks) * len(batch[1])


def said(name: str, measured: list[Batch]) -> str:
    each = {batch[0].id: answers(batch) / seconds(batch) for batch in measured}
    total = sum(answers(batch) for batch in measured)
    whole = sum(answers(batch) / each[batch[0].id] for batch in measured)
    slowest = min(each, key=each.__getitem__)
    middle = sorted(each.values())[len(each) // 2]
    return (
        f"{name}: {total / whole:,.0f} answers a second over all scenarios, {middle:,.0f} in the "
        f"middle one, {each[slowest]:,.0f} in {slowest}; 100,000 take {1e5 * whole / total:.1f} s"
    )


def test_answers_of_shared_variations(report: Report) -> None:
    report(said(f"{SHARED} papers a variation", batches(range(1), SHARED)))


def test_answers_of_variations_of_one_student_each(report: Report) -> None:
    report(said("one paper a variation, once it is read", batches(range(ALONE), 1)))


def test_a_variation_read_from_its_stored_document(report: Report) -> None:
    begun, files = perf_counter(), sorted(resource_dir("scenarios").glob("*.yaml"))
    documents = [canonical_document(path) for path in files]
    read = perf_counter()
    for document in documents:
        scenario_from_document(document, "stored")
    each = (perf_counter() - read) / len(files)
    assert read > begun
    report(f"a variation is read in {each * 1e3:.1f} ms")


def test_stored_answers_marked_again_from_preview_to_the_new_marks(
    report: Report, unit: Unit, cast: Cast, now: datetime, tmp_path: Path
) -> None:
    """A class far larger than any, and a corrected tolerance."""
    scenario = read_scenario_text(FORD, FILE)
    papers = [paper for seed in range(VARIATIONS) for paper in _drawn(scenario, seed)]
    _handed_in(unit, cast, now, papers)
    path = tmp_path / FILE
    path.write_text(changed(WIDER), encoding="utf-8")
    preparing.load_scenarios(unit, cast.instructor.actor, [path], now)
    wish = Wish(scenario.id, None, may_fall=False)
    begun = perf_counter()
    run_id = marking_again.begin_run(unit, cast.instructor.actor, wish, now)
    while not marking_again.run_view(unit, cast.instructor.actor, run_id).run.is_marked:
        marking_again.go_on(unit, cast.instructor.actor, run_id)
    looked = perf_counter()
    kept = marking_again.confirm_run(unit, cast.instructor.actor, run_id, "wrong-key", "x", now)
    written = perf_counter()

    assert kept == len(papers)
    stored = sum(len(answers) for _variation, answers in papers)
    report(
        f"{stored:,} stored answers of {kept:,} papers looked at in {looked - begun:.1f} s, "
        f"{stored / (looked - begun):,.0f} a second; confirmed in {written - looked:.1f} s"
    )


def _drawn(scenario: Scenario, seed: int) -> Iterator[tuple[Variation, dict[str, Any]]]:
    varied = vary(scenario, seed)
    group = Class(varied.scenario, seed)
    for _ in range(PAPERS // VARIATIONS):
        yield varied, group.paper()


def _handed_in(
    unit: Unit, cast: Cast, now: datetime, papers: list[tuple[Variation, dict[str, Any]]]
) -> None:
    """Write papers as if they had been handed in and marked, and close the class."""
    school = cast.student.actor.school_id
    of_school = {"school_id": school}
    with unit.write() as session:
        enrolment = session.scalars(select(tables.Enrolment)).one()
        answers, kept = [], []
        markers: dict[int, Marker] = {}
        for number, (varied, typed) in enumerate(papers, start=1):
            attempt = {
                **of_school,
                "enrolment_id": enrolment.id,
                "class_scenario_id": cast.class_scenario_id,
                "try_number": number,
                "seed": varied.seed,
                "digest": varied.scenario.digest,
                "solver_version": "1",
                "variation": dict(varied.values),
                "status": "submitted",
                "started_at": now,
                "submitted_at": now,
            }
            attempt_id = session.scalar(
                insert(tables.Attempt).returning(tables.Attempt.id), attempt
            )
            answers += [
                {
                    **of_school,
                    "attempt_id": attempt_id,
                    "task_id": task,
                    "typed": text,
                    "client_key": f"key-{task}",
                    "received_at": now,
                }
                for task, text in typed.items()
            ]
            marker = markers.setdefault(varied.seed, Marker(varied.scenario, "en"))
            sheet = sheet_of(marker.paper(typed))
            kept.append(Kept(attempt_id or 0, 1, sheet, "not-yet", (0, 0.75), Made(now)))
        session.execute(insert(tables.Answer), answers)
        keep_sheets(session, school, kept)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
