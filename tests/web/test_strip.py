"""The strip of answers: everything has its place, and no two things take the same."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.web.teach.strip import LETTER, WIDTH, Answered, Landmark, Strip, lay_out

TRUTH = Landmark(100.0, "truth 16.4 kN")
BAND = (95.0, 108.0)
values = st.floats(-200.0, 800.0)
answers = st.lists(st.builds(Answered, values, st.sampled_from(["right", "slip", "other"])))
names = st.text("abc de", min_size=1, max_size=70).filter(str.strip)
slips = st.lists(st.builds(Landmark, values, names), max_size=4)


def stretch(strip: Strip, value: float) -> float:
    """Return where a value of the truth's neighbourhood stands, by the ends of the band."""
    per_unit = strip.band[1] / (BAND[1] - BAND[0])
    return strip.band[0] + (value - BAND[0]) * per_unit


@given(answers)
def test_no_two_answers_cover_each_other(given_answers: list[Answered]) -> None:
    strip = lay_out(given_answers, TRUTH, BAND)

    for one, other in combinations(strip.shapes, 2):
        apart = max(abs(one.x - other.x), abs(one.y - other.y))
        assert apart >= 2 * strip.radius - 0.2


@given(answers)
def test_every_answer_is_drawn_or_told(given_answers: list[Answered]) -> None:
    strip = lay_out(given_answers, TRUTH, BAND)

    assert len(strip.shapes) + strip.beyond == len(given_answers)


@given(answers, slips)
def test_everything_stays_on_the_sheet(
    given_answers: list[Answered], named: list[Landmark]
) -> None:
    strip = lay_out(given_answers, TRUTH, BAND, named)

    assert all(0.0 <= shape.x <= WIDTH and 0.0 <= shape.y <= strip.base for shape in strip.shapes)
    for label in strip.labels:
        half = max(len(text) for text, _y in label.lines) * LETTER / 2
        assert half - 0.1 <= label.x <= WIDTH - half + 0.1
        assert all(strip.base < y <= strip.height for _text, y in label.lines)


@given(slips)
def test_no_two_labels_cover_each_other(named: list[Landmark]) -> None:
    strip = lay_out([], TRUTH, BAND, named)
    boxes = [
        (label.x - len(text) * LETTER / 2, label.x + len(text) * LETTER / 2, y)
        for label in strip.labels
        for text, y in label.lines
    ]

    for one, other in combinations(boxes, 2):
        assert one[2] != other[2] or one[1] <= other[0] + 0.2 or other[1] <= one[0] + 0.2


@pytest.mark.parametrize("value", [95.0, 100.0, 108.0])
def test_an_answer_within_the_tolerance_stands_on_the_band(value: float) -> None:
    strip = lay_out([Answered(value, "right")], TRUTH, BAND, [Landmark(180.0, "a mistake")])
    left, width = strip.band

    assert left - 0.1 <= strip.shapes[0].x <= left + width + 0.1
    assert strip.shapes[0].x == pytest.approx(stretch(strip, value), abs=0.2)


def test_an_answer_that_meets_a_mistake_stands_at_its_mark() -> None:
    strip = lay_out([Answered(180.0, "slip")], TRUTH, BAND, [Landmark(180.0, "twice the line")])

    assert strip.shapes[0].x == strip.labels[1].tick


def test_the_truth_comes_first_and_says_so() -> None:
    strip = lay_out([], TRUTH, BAND, [Landmark(60.0, "single line")])

    assert [label.is_truth for label in strip.labels] == [True, False]
    assert strip.labels[0].lines[0][0] == "truth 16.4 kN"


def test_a_number_a_thousand_times_too_large_does_not_squeeze_the_others() -> None:
    near = [Answered(95.0, "right"), Answered(108.0, "right")]
    strip = lay_out([*near, Answered(100_000.0, "slip")], TRUTH, BAND)
    low, high, far = (shape.x for shape in strip.shapes)

    assert strip.gap is not None
    assert low < high < strip.gap < far
    assert high - low > WIDTH / 2


def test_the_axis_breaks_only_where_something_lies_behind_the_break() -> None:
    assert lay_out([Answered(290.0, "other")], TRUTH, BAND).gap is None


def test_a_mistake_that_leads_far_off_has_its_words_behind_the_break() -> None:
    strip = lay_out([Answered(980.0, "slip")], TRUTH, BAND, [Landmark(980.0, "g left out")])

    assert strip.shapes[0].x == strip.labels[1].tick


def test_an_answer_far_below_nothing_is_told_and_not_drawn() -> None:
    strip = lay_out([Answered(-900.0, "other")], TRUTH, BAND)

    assert (strip.shapes, strip.beyond) == ((), 1)


def test_a_truth_below_nothing_stands_between_its_neighbours() -> None:
    given_answers = [Answered(-9.0, "other"), Answered(-5.0, "right"), Answered(0.0, "slip")]
    strip = lay_out(given_answers, Landmark(-5.0, "truth -5.00 kN"), (-5.25, -4.75))

    assert [shape.kind for shape in strip.shapes] == ["other", "right", "slip"]
    assert strip.gap is None


def test_a_truth_of_nothing_has_its_place_too() -> None:
    strip = lay_out([Answered(0.0, "right")], Landmark(0.0, "truth 0 N"), (-0.5, 0.5))

    assert strip.shapes[0].x == pytest.approx(WIDTH / 2)
