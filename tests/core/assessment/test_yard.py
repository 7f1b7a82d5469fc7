"""Outcomes in the yard, and two assessors compared."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.assessment.yard import compared, may_agree_on, yard_outcome
from coursekit.scenario.yard import Criterion, Level, YardTask

TASKS = (
    YardTask("brief", "Brief", (Criterion("stop", "Stop word", critical=True),)),
    YardTask("pull", "Pull", (Criterion("slow", "Slowly", marks=2.0), Criterion("calm", "Calm"))),
)
NAMES = ("brief.stop", "pull.slow", "pull.calm")
levels = st.fixed_dictionaries({name: st.sampled_from(Level) for name in NAMES})


@pytest.mark.parametrize(
    ("seen", "outcome", "marks"),
    [
        ((2, 2, 2), "competent", 4.0),
        ((2, 1, 2), "competent", 3.0),
        ((2, 1, 1), "not-yet", 2.5),
        ((1, 2, 2), "not-yet", 3.5),
        ((0, 2, 2), "unsafe", 3.0),
    ],
)
def test_marks_never_make_up_for_danger(seen: tuple[int, ...], outcome: str, marks: float) -> None:
    given_levels = {name: Level(level) for name, level in zip(NAMES, seen, strict=True)}
    found = yard_outcome(TASKS, given_levels, 0.75)
    assert (found.outcome, found.marks, found.out_of) == (outcome, marks, 4.0)


def test_a_criterion_that_nobody_looked_at_is_told() -> None:
    found = yard_outcome(TASKS, {"brief.stop": Level.UNAIDED, "pull.slow": Level.UNAIDED}, 0.5)
    assert (found.outcome, found.missing) == ("not-yet", ("pull.calm",))


@given(seen=levels, name=st.sampled_from(NAMES), share=st.floats(0.05, 1.0))
def test_showing_more_never_makes_it_worse(seen: dict[str, Level], name: str, share: float) -> None:
    order = ("unsafe", "not-yet", "competent")
    better = {**seen, name: Level.UNAIDED}
    one, other = (yard_outcome(TASKS, each, share) for each in (seen, better))
    assert order.index(other.outcome) >= order.index(one.outcome)
    assert other.marks >= one.marks


@given(first=levels, second=levels)
def test_it_does_not_matter_who_was_first(
    first: dict[str, Level], second: dict[str, Level]
) -> None:
    one, other = compared([(first, second)]), compared([(second, first)])
    assert (one.agreed, one.passed_by_one, one.differing) == (
        other.agreed, other.passed_by_one, other.differing,
    )  # fmt: skip
    assert one.agreed + len(one.differing) == one.criteria == len(NAMES)


def test_full_agreement_has_a_kappa_of_one_where_levels_vary() -> None:
    seen = dict(zip(NAMES, map(Level, (0, 1, 2)), strict=True))
    found = compared([(seen, seen)])
    assert found.kappa is not None
    assert (found.kappa.value, found.is_small) == (1.0, True)


@given(own=st.sampled_from(Level), other=st.sampled_from(Level))
def test_nobody_talks_another_out_of_danger(own: Level, other: Level) -> None:
    """Common practice of moderation, no source."""
    levels = may_agree_on(own, other, critical=True)

    assert Level.NOT_SHOWN in levels
    assert max(levels) <= max(own, other)
    if other is Level.NOT_SHOWN:
        assert levels == (Level.NOT_SHOWN,)
    assert may_agree_on(own, other, critical=False) == tuple(Level)
