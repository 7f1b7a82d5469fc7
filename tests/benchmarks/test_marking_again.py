"""Answers marked again in a second: where students share their numbers, and where none do."""

from __future__ import annotations

from collections.abc import Iterator
from time import perf_counter
from typing import Any

import pytest

from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import (
    canonical_document,
    read_scenario,
    scenario_from_document,
)
from coursekit.scenario.model import Scenario
from coursekit.scenario.vary import vary
from coursekit.services.marking import Marker
from tests.benchmarks.conftest import Report
from tests.benchmarks.simulated_papers import Class

pytestmark = pytest.mark.benchmark

SHARED, ALONE = 300, 3

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
