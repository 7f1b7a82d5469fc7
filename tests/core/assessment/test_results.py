"""Outcomes are conjunctive: marks never make up for danger, nor one strand for another."""

import itertools
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.assessment.results import Earned, Rule, decided, is_near_cut, overall, strand_marks
from coursekit.assessment.school_policy import (
    LIMITS,
    USUAL,
    SchoolPolicy,
    policy_document,
    policy_of,
    policy_problems,
)
from coursekit.scenario.strands import STRANDS

halves = st.integers(0, 10).map(lambda n: n / 2)
papers = st.lists(
    st.tuples(st.sampled_from(STRANDS), halves, halves).map(
        lambda one: Earned(one[0], min(one[1:]), max(one[1:]))
    ),
    min_size=1,
)
shares = st.floats(0.05, 1.0)
minimums = st.dictionaries(st.sampled_from(STRANDS), shares)
outcomes = st.lists(st.sampled_from(["competent", "not-yet", "unsafe", None]))


@given(papers, shares, minimums)
def test_an_unsafe_paper_is_unsafe_whatever_it_earned(
    paper: list[Earned], share: float, floor: dict[str, float]
) -> None:
    assert decided(paper, Rule(share, floor), is_safe=False).outcome == "unsafe"


@given(papers, shares, minimums)
def test_a_minimum_only_ever_takes_a_pass_away(
    paper: list[Earned], share: float, floor: dict[str, float]
) -> None:
    with_floor = decided(paper, Rule(share, floor), is_safe=True)
    without = decided(paper, Rule(share), is_safe=True)

    assert without.outcome == "competent" or with_floor.outcome == "not-yet"
    passes = without.outcome == "competent" and not with_floor.short_strands
    assert (with_floor.outcome == "competent") == passes


@given(papers, minimums)
def test_strands_part_all_marks_among_them(paper: list[Earned], floor: dict[str, float]) -> None:
    strands = strand_marks(paper, floor)

    assert sum(one.marks for one in strands) == sum(one.marks for one in paper)
    assert sum(one.out_of for one in strands) == sum(one.out_of for one in paper)


def test_a_high_total_does_not_hide_a_strand_that_is_missed() -> None:
    paper = [Earned("resistance", 8.0, 8.0), Earned("anchor", 0.5, 2.0)]
    decision = decided(paper, Rule(0.7, {"anchor": 0.5}), is_safe=True)

    assert (decision.share, decision.reaches_cut) == (0.85, True)
    assert decision.outcome == "not-yet"
    assert [one.strand for one in decision.short_strands] == ["anchor"]


def test_a_minimum_of_a_strand_that_the_paper_does_not_ask_for_changes_nothing() -> None:
    paper = [Earned("resistance", 7.0, 10.0)]

    assert decided(paper, Rule(0.7, {"kinetic": 1.0}), is_safe=True).outcome == "competent"


def test_the_pass_mark_itself_passes() -> None:
    # 0.7 of 15 marks is 10.5, which no float holds exactly as 0.7 x 15.
    assert decided([Earned("kit", 10.5, 15.0)], Rule(0.7), is_safe=True).outcome == "competent"
    assert decided([Earned("kit", 10.0, 15.0)], Rule(0.7), is_safe=True).outcome == "not-yet"


def test_a_paper_without_marks_to_earn_is_not_passed() -> None:
    assert decided([], Rule(0.7), is_safe=True).outcome == "not-yet"


@given(outcomes)
def test_the_order_of_the_scenarios_changes_nothing(made: list[str | None]) -> None:
    assert overall(made) == overall(made[::-1])


def test_competent_takes_every_scenario_competent() -> None:
    known = ("competent", "not-yet", "unsafe", None)
    competent = [m for m in itertools.product(known, repeat=2) if overall(m) == "competent"]

    assert competent == [("competent", "competent")]


def test_the_band_around_the_cut_has_both_its_ends() -> None:
    papers = {n: decided([Earned("kit", n, 10.0)], Rule(0.7), is_safe=True) for n in range(11)}

    near = [n for n, paper in papers.items() if is_near_cut(paper, 1.0, sems=1.0, share=0.05)]
    assert near == [6, 7, 8]
    near = [n for n, paper in papers.items() if is_near_cut(paper, None, sems=1.0, share=0.1)]
    assert near == [6, 7, 8]


def test_a_school_that_wants_no_band_has_none() -> None:
    decision = decided([Earned("kit", 7.0, 10.0)], Rule(0.7), is_safe=True)

    assert not is_near_cut(decision, 1.0, sems=0.0, share=0.0)
    assert not is_near_cut(decision, None, sems=0.0, share=0.0)


def test_a_policy_comes_back_as_it_was_stored() -> None:
    own = replace(USUAL, strand_minimums={"anchor": 0.5}, retry_other_numbers=False, warn_days=9)

    assert policy_of(policy_document(own)) == own
    assert policy_of({"pass_share": 0.8}) == SchoolPolicy(0.8)


@pytest.mark.parametrize("name", LIMITS)
def test_each_number_has_a_lowest_and_a_highest(name: str) -> None:
    lowest, highest = LIMITS[name]
    for value in (lowest - 1, highest + 1):
        fields = [problem.where.field for problem in policy_problems(policy_of({name: value}))]
        assert name in fields


def test_names_stay_as_long_as_a_certificate_and_records_as_long_as_names() -> None:
    short = SchoolPolicy(certificate_months=60, names_months=48, records_months=36)
    fields = [problem.where.field for problem in policy_problems(short)]

    assert fields == ["names_months", "records_months"]


@pytest.mark.parametrize("floor", [{"juggling": 0.5}, {"kit": 0.0}, {"kit": 1.5}])
def test_a_minimum_is_a_share_of_a_known_strand(floor: dict[str, float]) -> None:
    assert len(list(policy_problems(SchoolPolicy(strand_minimums=floor)))) == 1
    assert list(policy_problems(USUAL)) == []
