"""The search for safe rigs beside a brute force on the same small kit, in solves and seconds."""

from __future__ import annotations

import time

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from coursekit.rigging.gear import Item
from coursekit.rigging.search import safe_rigs
from coursekit.rigging.site import Situation
from tests.benchmarks.conftest import Report
from tests.core import world
from tests.core.rigging.search.brute_force import brute_force

pytestmark = pytest.mark.benchmark

SMALL = {"winch-line", "sling-1", "sling-2", "bow-1", "bow-2", "soft-1", "block-1", "block-2"}
MORE = (
    Item("bow-3", "bow-shackle", wll=world.tonnes(6.5)),
    Item("bow-4", "bow-shackle", wll=world.tonnes(3.25)),
    Item("soft-4", "soft-shackle", mbs=240e3),
    Item("sling-3", "roundsling", wll=world.tonnes(4.0), length=3.0),
    Item("line-3", "extension-line", mbs=88e3, length=25.0),
    Item("block-3", "pulley-block", mbs=160e3, efficiency=0.93),
)


def small_kit() -> Situation:
    gear = {item.id: item for item in world.GEAR if item.id in SMALL}
    return world.situation(gear=gear, anchors={"oak": world.situation().anchors["oak"]})


def twenty_five_items() -> Situation:
    return world.situation(gear={item.id: item for item in (*world.GEAR, *MORE)})


def test_the_search_on_a_small_kit(benchmark: BenchmarkFixture, report: Report) -> None:
    situation = small_kit()
    start = time.perf_counter()
    search = safe_rigs(situation)
    searched = time.perf_counter() - start
    _, solves = brute_force(situation)
    brute = time.perf_counter() - start - searched

    benchmark(safe_rigs, situation)
    times = f"{solves / max(search.solves, 1):.0f} times the solves"
    report(f"{len(search.rigs)} layouts in {search.solves} solves and {searched:.3f} s")
    report(
        f"brute force {solves} solves and {brute:.2f} s: {times}, {brute / searched:.0f} the time"
    )


def test_the_search_with_twenty_five_items(benchmark: BenchmarkFixture, report: Report) -> None:
    search = benchmark.pedantic(safe_rigs, (twenty_five_items(),), rounds=1)

    assert search.is_complete
    report(f"{len(search.rigs)} safe layouts of {search.examined}, {search.solves} solves")
