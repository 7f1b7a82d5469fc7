"""What an examination comes to, line by line."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.wear.inspection import Criterion, Looked, Measure, Seen, Way, seen_at, verdict
from coursekit.wear.lists import LISTS

lists = st.sampled_from(sorted(LISTS))
lengths = st.floats(min_value=1e-4, max_value=100.0)
WORN = Criterion("worn", "Worn", "a standard", measure=Measure(Way.LOST, 0.10))


def fine(name: str) -> dict[str, Looked]:
    return {each.key: Looked(Seen.FINE) for each in LISTS[name].criteria}


@given(lists)
def test_a_list_of_which_every_line_is_fine_passes(name: str) -> None:
    told = verdict(LISTS[name].criteria, fine(name))

    assert told.passed
    assert not told.failed


@given(lists, st.data())
def test_one_line_that_was_found_fails_it_whatever_the_others_are(
    name: str, data: st.DataObject
) -> None:
    keys = [each.key for each in LISTS[name].criteria]
    lines = {key: Looked(data.draw(st.sampled_from(list(Seen)))) for key in keys}
    found = data.draw(st.sampled_from(keys))
    told = verdict(LISTS[name].criteria, lines | {found: Looked(Seen.FOUND)})

    assert told.failed
    assert not told.passed
    assert found in told.found


@given(lists, st.data())
def test_a_line_that_is_missing_was_not_looked_at(name: str, data: st.DataObject) -> None:
    lines = fine(name)
    left_out = data.draw(st.sampled_from(sorted(lines)))
    del lines[left_out]
    told = verdict(LISTS[name].criteria, lines)

    assert told.unseen == (left_out,)
    assert not told.passed
    assert not told.failed


def test_a_line_of_another_list_is_refused() -> None:
    with pytest.raises(ValueError, match="not on this list: threads"):
        verdict(LISTS["roundsling"].criteria, {"threads": Looked(Seen.FINE)})


@pytest.mark.parametrize(
    ("seen", "now", "told"),
    [
        (Seen.FINE, 0.0181, Seen.FINE),
        (Seen.FINE, 0.0179, Seen.FOUND),
        (Seen.UNSEEN, 0.0181, Seen.FINE),
        (Seen.UNSEEN, 0.0179, Seen.FOUND),
        (Seen.FOUND, 0.0200, Seen.FOUND),
    ],
)
def test_a_number_makes_a_line_worse_never_better(seen: Seen, now: float, told: Seen) -> None:
    assert seen_at(WORN, Looked(seen, (0.020, now))) is told


@given(as_new=lengths, share=st.floats(min_value=0.0, max_value=1.0))
def test_more_wear_never_keeps_what_less_wear_removes(as_new: float, share: float) -> None:
    measure = Measure(Way.LOST, 0.10)
    now = as_new * (1.0 - share)

    if measure.removes((as_new, now)):
        assert measure.removes((as_new, now * 0.99))


@given(as_new=lengths)
def test_at_the_limit_counts_as_beyond_it(as_new: float) -> None:
    assert Measure(Way.LOST, 0.10).removes((as_new, as_new * 0.9))
    assert Measure(Way.GAINED, 0.05).removes((as_new, as_new * 1.05))
    assert Measure(Way.LOST, 0.10).removes((as_new, 0.0))


@given(as_new=lengths, now=lengths)
def test_two_sizes_the_wrong_way_round_are_never_taken_for_fine(as_new: float, now: float) -> None:
    measure = Measure(Way.LOST, 0.10)

    if measure.removes((as_new, now)) and as_new > now:
        assert measure.seems_swapped((now, as_new))


@pytest.mark.parametrize("wrong", [-0.001, math.nan, math.inf, -math.inf])
def test_a_size_that_cannot_be_is_named(wrong: float) -> None:
    assert Measure(Way.LOST, 0.10).wrong_size((wrong, 0.02)) == "as-new"
    assert Measure(Way.LOST, 0.10).wrong_size((0.02, wrong)) == "now"
    assert Measure(Way.COUNT, 6).wrong_size((wrong,)) == "number"
    assert Measure(Way.PART, 0.1).wrong_size((1.0, wrong)) == "of"


def test_counts_are_whole_and_a_part_is_no_more_than_all() -> None:
    assert Measure(Way.COUNT, 6).wrong_size((2.5,)) == "number"
    assert Measure(Way.PART, 0.1).wrong_size((9.0, 8.0)) == "of"
    assert Measure(Way.PART, 0.1).wrong_size((0.0, 32.0)) is None
