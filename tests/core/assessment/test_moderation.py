"""What follows from a change of marks, decided without a database."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.assessment.marks import VERDICTS
from coursekit.assessment.moderation import (
    Held,
    PairMarked,
    against_change,
    against_excuse,
    against_second_marks,
    marks_typed,
    pairs_seen,
    settled,
    verdict_for,
)
from coursekit.problems import Problems

HALVES = st.integers(0, 12).map(lambda number: number / 2)


@pytest.mark.parametrize("text", ["", "nan", "inf", "-1", "1e3", "3.25", "3.5", "three", "٣"])
def test_only_halves_from_nothing_to_all_are_marks(text: str) -> None:
    with pytest.raises(Problems):
        marks_typed(text, 3.0)


@given(HALVES, st.sampled_from(VERDICTS))
def test_a_verdict_never_contradicts_its_marks(marks: float, verdict: str) -> None:
    found = verdict_for(verdict, marks, 6.0)

    assert (found in ("right", "carried")) == (marks == 6.0)
    assert found not in ("part", "right", "carried") or marks > 0.0


@given(HALVES, HALVES)
def test_no_task_loses_marks_unless_they_may_fall(before: float, after: float) -> None:
    old, new = [Held("a", before, 6.0, "part")], [Held("a", after, 6.0, "part")]

    assert settled(old, new, may_fall=False)[0].marks == max(before, after)
    assert settled(old, new, may_fall=True)[0].marks == after


@given(before=HALVES, after=HALVES, may_fall=st.booleans())
def test_marks_for_an_answer_that_is_dangerous_are_never_kept(
    before: float, after: float, *, may_fall: bool
) -> None:
    old = [Held("a", before, 6.0, "right")]
    new = [Held("a", after, 6.0, "wrong", is_unsafe=True)]

    assert settled(old, new, ["a"], may_fall=may_fall)[0].marks == after


@given(before=HALVES, after=HALVES, may_fall=st.booleans())
def test_marks_that_somebody_set_stay(before: float, after: float, *, may_fall: bool) -> None:
    old, new = [Held("a", before, 6.0, "part")], [Held("a", after, 6.0, "part")]

    assert settled(old, new, ["a"], may_fall=may_fall)[0].marks == before


def test_who_marked_before_an_appeal_is_refused_and_nobody_else() -> None:
    assert against_change(1, {1, 2}, is_appealed=True)
    assert against_change(3, {1, 2}, is_appealed=True) is None
    assert against_change(1, {1, 2}, is_appealed=False) is None


def test_a_finding_is_excused_by_nobody_who_asked_or_teaches_the_class() -> None:
    assert against_excuse(1, {1}, 9)
    assert against_excuse(9, {1}, 9)
    assert against_excuse(2, {1}, 9) is None


def test_blind_marks_come_from_nobody_who_knows_the_marks() -> None:
    assert against_second_marks(9, set(), 9)
    assert against_second_marks(1, {1}, 9)
    assert against_second_marks(2, {1}, 9) is None


def test_passed_by_one_and_failed_by_the_other_is_counted_both_ways() -> None:
    same = (Held("a", 1.0, 1.0), Held("a", 1.0, 1.0))
    pairs = [
        PairMarked("competent", "not-yet", (same,)),
        PairMarked("competent", "unsafe", ()),
        PairMarked("unsafe", "competent", ()),
        PairMarked("not-yet", "unsafe", ()),
        PairMarked("competent", "competent", ()),
    ]
    seen = pairs_seen(pairs)

    assert (seen.passed_then_failed, seen.failed_then_passed) == (2, 1)
    assert (seen.same_outcome, seen.papers, seen.same_marks) == (1, 5, 1)
