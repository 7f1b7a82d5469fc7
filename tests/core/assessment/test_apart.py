"""A student gets numbers that keep usual mistakes apart, and a seed keeps its numbers."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from coursekit.assessment.apart import MOST_COMPARED, mistakes_alike, vary_apart
from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import read_scenario
from coursekit.scenario.model import Scenario
from coursekit.scenario.numbers import at_indices
from coursekit.scenario.vary import vary
from tests.core.scenario.test_vary import scenario

MASS_OF_3000, MASS_OF_2650 = 16, 9
EIGHT_DEG, SEVEN_DEG = 4, 3


def shipped(name: str) -> Scenario:
    return read_scenario(resource_dir("scenarios") / f"{name}.yaml")


@pytest.mark.independent("the sums of each slip by hand, in the test")
def test_mistakes_that_one_answer_can_meet_are_counted_by_pairs() -> None:
    """3,000 kg, 8 deg, c 0.14: W = 29,420 N, W sin = 4,094, c W cos = 4,079.

    Slope alone and rolling alone lie 0.4 % apart.  W cos + c W cos = 33,213 (cosine for
    sine), W sin(8 rad) + c W cos = 33,186 (set to radians) and W cos + W sin = 33,228
    (weight for rolling) lie within 0.2 %: three pairs more.
    """
    assert mistakes_alike(at_indices(scenario(), (MASS_OF_3000, EIGHT_DEG))) == 4


@pytest.mark.independent("the sums of each slip by hand, in the test")
def test_mistakes_that_lie_apart_are_not_counted() -> None:
    """2,650 kg, 7 deg: slope alone is 3,167 N and rolling alone 3,611: 12 % apart."""
    assert mistakes_alike(at_indices(scenario(), (MASS_OF_2650, SEVEN_DEG))) == 0


def test_of_the_first_few_seeds_the_one_that_keeps_mistakes_apart_is_taken() -> None:
    """Seed 3 has the 3,000 kg and 8 deg of above; seed 0 keeps all apart."""
    chosen = vary_apart(scenario(), (3, 0, 1))

    assert chosen == vary(scenario(), 0)


def test_no_more_seeds_are_looked_at_than_a_student_waits_for() -> None:
    looked_at = []

    def seeds() -> Iterator[int]:
        for seed in range(100):
            looked_at.append(seed)
            yield seed

    vary_apart(scenario(), seeds())

    assert len(looked_at) == MOST_COMPARED


def test_one_seed_is_taken_as_it_is() -> None:
    assert vary_apart(scenario(), (3,)) == vary(scenario(), 3)
    assert vary_apart(scenario(vary=()), iter((3, 4))) == vary(scenario(vary=()), 3)


@pytest.mark.parametrize("name", ["ford-exit", "lane-tow", "tide-flat"])
def test_fewer_mistakes_look_alike_in_the_scenarios_that_are_shipped(name: str) -> None:
    own = shipped(name)
    groups = [range(start, start + MOST_COMPARED) for start in range(0, 5 * MOST_COMPARED, 4)]

    drawn = sum(mistakes_alike(vary(own, seed).scenario) for group in groups for seed in group)
    chosen = sum(mistakes_alike(vary_apart(own, group).scenario) for group in groups)

    assert chosen < drawn / MOST_COMPARED
