"""Answers of another shape than asked for were marked as what they are not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coursekit.assessment.marking import mark_paper
from coursekit.assessment.marks import TaskMark
from coursekit.assessment.named import mark_choice, mark_order
from coursekit.assessment.replies import NameReply, NamesReply, QuantityReply
from coursekit.files.replies import reply_of
from coursekit.quantities.voice import shower, units_of
from coursekit.scenario.tasks import ChoiceTask, ItemTask, OrderTask, QuantityTask
from tests.core.scenario.stock import scenario

GO = ChoiceTask("go", 1.0, options={"go": "pull", "no-go": "leave it"}, answer="go", critical=True)
STEPS = OrderTask("steps", 4.0, items=("one", "two", "three", "four", "five"))


def test_what_is_no_option_is_no_unsafe_choice() -> None:
    mark = mark_choice(GO, NameReply("pull"))

    assert (mark.verdict, mark.marks, mark.stops) == ("wrong", 0.0, ())
    assert mark_choice(GO, NameReply("no-go")).stops


@pytest.mark.parametrize(
    ("given", "verdict", "marks"),
    [
        # A thing too many spoils one of the steps: 4 x (5 - 1)/(6 - 1) = 3.2.
        ((*STEPS.items, "six"), "part", 3.0),
        ((*STEPS.items, "one"), "part", 3.0),
        # One thing out of place: 4 x (4 - 1)/(5 - 1).
        (("two", "three", "four", "five", "one"), "part", 3.0),
        (("one", "two"), "part", 1.0),
        (("one", "one", "one"), "wrong", 0.0),
        ((), "wrong", 0.0),
        (("five", "four", "three", "two", "one"), "wrong", 0.0),
        (STEPS.items, "right", 4.0),
    ],
)
def test_an_order_with_too_many_or_too_few_things_is_never_whole(
    given: tuple[str, ...], verdict: str, marks: float
) -> None:
    mark = mark_order(STEPS, NamesReply(given))

    assert (mark.verdict, mark.marks) == (verdict, marks)


@pytest.mark.parametrize(
    ("typed", "read"), [(["bow-1"], "bow-1"), (["bow-1", 2], "bow-1, 2"), ({"a": ["b"]}, "a: b")]
)
def test_a_list_in_place_of_a_text_is_read_as_its_text(typed: object, read: str) -> None:
    assert reply_of(scenario("ford-exit"), ItemTask("weak", 1.0), typed) == NameReply(read)


def snatch_mark(task: QuantityTask, given: dict[str, float]) -> TaskMark:
    """Mark a task after another on the pull, with a rig that pulls backwards."""
    own = scenario("dune-mouth")
    away = replace(own.situation.stuck, exit=0.0)
    asked = (QuantityTask("pull", 1.0, of="pull"), task)
    bent = replace(own, situation=replace(own.situation, stuck=away), tasks=asked)
    replies = {name: QuantityReply(f"{value} N", value) for name, value in given.items()}
    return mark_paper(bent, replies, shower(units_of(own))).tasks[1]


def test_an_answer_below_zero_to_what_has_no_value_is_not_carried_forward() -> None:
    task = QuantityTask("needed", 1.0, of="line.needed", after=("pull",))

    assert snatch_mark(task, {"pull": -5.0, "needed": 7.0}).verdict == "right"


def test_what_was_given_is_told_also_where_there_is_no_value() -> None:
    mark = snatch_mark(QuantityTask("peak", 1.0, of="kinetic.peak"), {"peak": 9000.0})

    assert (mark.verdict, mark.given, mark.truth) == ("wrong", 9000.0, None)
