"""Marks a paper on a worked example: verdicts in order, carried forward, safety apart.

The example is calculated by hand (see the first test): 2,600 kg, 12 deg, c 0.15,
one pulley of 0.90 at the anchor, the line back to the vehicle with its own winch.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from coursekit.assessment.diagnosis import habits
from coursekit.assessment.marking import mark_paper
from coursekit.assessment.marks import Paper, TaskMark
from coursekit.assessment.replies import (
    NameReply,
    NamesReply,
    QuantityReply,
    Reading,
    Reply,
    RigReply,
)
from coursekit.problems import Problem, Where
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Anchor, Ground
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import (
    AnyTask,
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
    RigTask,
    Tolerance,
)
from tests.core.world import CHOKED, KN, deg, self_recovery, turn, winch_line, with_own_winch

ONE_PER_CENT = Tolerance(0.01, 0.01)
TOTAL, PULL, LOAD = 9042.2, 4759.1, 9042.2

TASKS: tuple[AnyTask, ...] = (
    QuantityTask("total", 3, of="resistance.total", tolerance=ONE_PER_CENT),
    QuantityTask("pull", 2, after=("total",), of="pull", tolerance=ONE_PER_CENT),
    QuantityTask("load", 1, after=("pull",), of="place.oak.load", tolerance=ONE_PER_CENT),
    RigTask("build", 6, scheme={"safe": 3, "reaches": 1, "margin": 1, "economy": 1}),
    QuantityTask("own", 2, of="place.oak.load", rig="own", tolerance=ONE_PER_CENT),
    ItemTask("weak", 1, of="weakest"),
    ItemsTask("bin", 2),
    ChoiceTask(
        "go",
        1,
        options={"go": "Pull", "no-go": "Don't"},
        answer="go",
        because="It holds.",
        critical=True,
    ),
    OrderTask("steps", 2, items=("snug", "stop", "walk the line", "pull")),
)


def scenario(**more: Any) -> Scenario:
    site = replace(
        with_own_winch(),
        ground=Ground(None, 0.15, deg(12.0), deg(270.0)),
        anchors={"oak": Anchor("oak", "tree", (30.0, 0.0), 90 * KN)},
    )
    gear = {
        **site.gear,
        "winch-line": replace(site.gear["winch-line"], length=70.0),
        "sling-2": replace(site.gear["sling-2"], condition=("no-label",)),
    }
    plain = Scenario(
        "ledge",
        "Below the ledge",
        "foundation",
        "",
        replace(site, gear=gear),
        TASKS,
        "sha256:0",
        rigs={"given": self_recovery()},
    )
    return replace(plain, **more)


def show(value: float, unit: str, _direction: str) -> str:
    return f"{value:.4g} {unit}"


def newtons(value: float, rounding: float = 0.0005) -> QuantityReply:
    """A force typed in newtons; it would be as many kilonewtons, kilograms and pounds."""
    factors = {"kN": 1000.0, "kgf": 9.80665, "lbf": 4.4482216152605}
    readings = tuple(Reading(unit, value * factor) for unit, factor in factors.items())
    return QuantityReply(f"{value:g} N", value, rounding, readings)


def marked(**replies: Reply) -> Paper:
    return mark_paper(scenario(), replies, show)


def mark_of(task: str, **replies: Reply) -> TaskMark:
    [mark] = [mark for mark in marked(**replies).tasks if mark.task == task]
    return mark


def words(mark: TaskMark) -> str:
    return " ".join(str(message) for message in mark.feedback)


def test_answers_within_tolerance_are_right() -> None:
    paper = marked(total=newtons(9040.0), pull=newtons(4760.0), load=newtons(9040.0))

    assert [mark.verdict for mark in paper.tasks[:3]] == ["right"] * 3
    assert [mark.marks for mark in paper.tasks[:3]] == [3, 2, 1]
    assert paper.tasks[0].truth == pytest.approx(TOTAL, abs=0.05)


@pytest.mark.source("IB and A-level mark schemes on follow through (ft, ecf), second-hand")
def test_one_error_is_paid_for_once() -> None:
    """Rolling forgotten: 5,301.2 N; from that 5,301.2 / 1.9 = 2,790.1 and 5,301.2 again."""
    paper = marked(total=newtons(5301.0), pull=newtons(2790.0), load=newtons(5301.0))

    total, pull, load = paper.tasks[:3]
    assert (total.verdict, total.slips) == ("slip", ("rolling-left-out",))
    # The schemes keep one of three marks where one term is missing.
    assert total.marks == 1
    assert (pull.verdict, pull.marks) == ("carried", 2)
    assert (load.verdict, load.marks) == ("carried", 1)
    assert pull.truth == pytest.approx(PULL, abs=0.05)
    assert pull.expected == pytest.approx(5301.0 / 1.9)


@pytest.mark.independent("the printed ratio of each slip to the truth, times 4,759.1 N")
@pytest.mark.parametrize(
    ("ratio", "slip"),
    [
        (0.5863, "rolling-left-out"),
        (3.6100, "multiplied-by-advantage"),
        (1.9000, "advantage-left-out"),
        (0.9500, "friction-left-out"),
        (0.7559, "percent-for-degrees"),
        (9.8067, "gravity-twice"),
    ],
)
def test_a_slip_is_named_by_the_number_it_leads_to(ratio: float, slip: str) -> None:
    mark = mark_of("pull", pull=newtons(ratio * PULL))

    assert mark.verdict == "slip"
    assert slip in mark.slips
    assert "Consistent with" in words(mark)


@pytest.mark.parametrize(
    ("typed", "unit"),
    [(PULL / 1000.0, "kN"), (PULL / 9.80665, "kgf"), (PULL / 4.4482216152605, "lbf")],
)
def test_a_right_number_in_a_wrong_unit_keeps_half(typed: float, unit: str) -> None:
    mark = mark_of("pull", pull=newtons(typed))

    assert (mark.verdict, mark.marks) == ("unit", 1)
    assert unit in words(mark)


def test_a_remark_on_what_follows_names_it_and_the_truth_beside_it() -> None:
    """5,301 / 1.9 = 2,790 by hand; the truth is 4,759."""
    mark = mark_of("pull", total=newtons(5301.0), pull=newtons(2790.0))

    assert words(mark).startswith("From your earlier answer 2790 N follows")
    assert "From the given data it is 4759 N." in words(mark)


def test_a_slip_on_an_earlier_answer_is_explained_with_the_numbers_it_was_met_on() -> None:
    """6,000 / 1.9 = 3,158 by hand."""
    mark = mark_of("pull", total=newtons(6000.0), pull=newtons(6000.0))

    assert (mark.verdict, mark.slips[0]) == ("slip", "advantage-left-out")
    assert "6000 N is the whole resistance" in words(mark)
    assert "the winch needs 3158 N" in words(mark)
    assert words(mark).endswith("From the given data it is 4759 N.")


def test_a_slip_on_the_given_data_is_explained_with_the_truth() -> None:
    mark = mark_of("pull", total=newtons(6000.0), pull=newtons(TOTAL))

    assert "the winch needs 4759 N" in words(mark)
    assert "From the given data" not in words(mark)


def test_a_unit_fault_on_an_earlier_answer_names_what_follows_from_that() -> None:
    """6,000 / 1.9 = 3,158 N by hand, typed as 3.158 N."""
    mark = mark_of("pull", total=newtons(6000.0), pull=newtons(3.158))

    assert mark.verdict == "unit"
    assert "It is 3158 N. From the given data it is 4759 N." in words(mark)


def test_a_number_without_its_unit_is_a_unit_fault() -> None:
    bare = QuantityReply("4760", None, readings=(Reading("N", 4760.0), Reading("kN", 4.76e6)))

    mark = mark_of("pull", pull=bare)

    assert (mark.verdict, mark.marks) == ("unit", 1)


@pytest.mark.parametrize("value", [6100.0, -4759.0, 1e9])
def test_a_number_that_meets_nothing_is_wrong_and_gets_the_working(value: float) -> None:
    mark = mark_of("pull", pull=newtons(value, 1e-5))

    assert (mark.verdict, mark.marks, mark.slips) == ("wrong", 0, ())
    assert "F = R / A" in words(mark)


def test_nothing_answered_is_missing() -> None:
    assert {mark.verdict for mark in marked().tasks} == {"missing"}
    assert marked().outcome == "not-yet"


def test_right_after_wrong_is_right_and_flagged() -> None:
    mark = mark_of("pull", total=newtons(5301.0), pull=newtons(PULL))

    assert (mark.verdict, mark.flagged) == ("right", True)


@pytest.mark.parametrize(("total", "pull"), [(-5301.0, -2790.0), (0.0, 0.0)])
def test_carrying_ends_where_the_carried_value_is_impossible(total: float, pull: float) -> None:
    mark = mark_of("pull", total=newtons(total), pull=newtons(pull))

    assert mark.verdict == "wrong"
    assert mark.expected == mark.truth


def test_zeros_earn_nothing() -> None:
    zero = newtons(0.0, 0.0)

    paper = marked(total=zero, pull=zero, load=zero)

    assert [(mark.verdict, mark.marks) for mark in paper.tasks[:3]] == [("wrong", 0)] * 3


@pytest.mark.parametrize(
    "pull", [None, QuantityReply("4736", None)], ids=["left blank", "without its unit"]
)
def test_an_answer_carries_past_a_step_that_has_none(pull: Reply | None) -> None:
    """The load at the oak is the whole resistance (two parts that share it), by statics."""
    blank: dict[str, Reply] = {} if pull is None else {"pull": pull}

    mark = mark_of("load", total=newtons(5301.0), load=newtons(5301.0), **blank)

    assert (mark.verdict, mark.marks) == ("carried", 1)
    assert mark.expected == pytest.approx(5301.0)


def test_the_nearest_answer_carries_not_those_behind_it() -> None:
    """9,042.2 / 4,759.1 = 1.9 of a pull of 3,000 N is 5,700 N, whatever the total was."""
    answers = {"total": newtons(5301.0), "pull": newtons(3000.0), "load": newtons(5700.0)}

    mark = mark_of("load", **answers)

    assert (mark.verdict, mark.expected) == ("carried", pytest.approx(5700.0))


def test_the_ends_of_a_tolerance_count_as_within() -> None:
    """1 % of 9,042.2 by the chain's own truth: inclusive at both ends, not beyond."""
    truth = mark_of("total").truth

    verdicts = [
        mark_of("total", total=newtons(truth * share, 1e-6)).verdict
        for share in (0.9899, 0.99, 1.01, 1.0101)
    ]

    assert verdicts == ["wrong", "right", "right", "wrong"]


def test_a_good_rig_earns_its_whole_scheme() -> None:
    paper = marked(build=RigReply(self_recovery()))

    assert (paper.tasks[3].verdict, paper.tasks[3].marks) == ("right", 6)
    assert paper.is_safe


def test_an_unsafe_rig_makes_the_outcome_unsafe_whatever_the_marks() -> None:
    unfit = winch_line(
        turn("oak", "block-1", replace(CHOKED, item="sling-2"), "soft-1"),
        start="stuck_vehicle.winch",
    )
    everything: dict[str, Reply] = {
        "total": newtons(TOTAL),
        "pull": newtons(PULL),
        "load": newtons(LOAD),
        "own": newtons(LOAD),
        "weak": NameReply("stuck_vehicle.front"),
        "bin": NamesReply(("sling-2",)),
        "go": NameReply("go"),
        "steps": NamesReply(("snug", "stop", "walk the line", "pull")),
    }

    paper = marked(build=RigReply(Rig("winch", (unfit,))), **everything)

    assert paper.marks >= 0.7 * paper.out_of
    assert paper.outcome == "unsafe"
    assert "sling-2" in " ".join(str(stop) for stop in paper.stops)


def test_a_rig_that_cannot_be_solved_is_wrong_and_says_why() -> None:
    problem = Problem(Where("lines.0.to.at"), "There is no place roof", "Take another")

    mark = mark_of("build", build=RigReply(None, (problem,)))

    assert (mark.verdict, mark.marks) == ("wrong", 0)
    assert "There is no place roof" in words(mark)


def test_an_own_rig_is_the_truth_of_what_follows() -> None:
    """With a single line to the oak the anchor feels the whole pull, 9,042 N by hand."""
    single = winch_line(start="stuck_vehicle.winch")
    single = replace(
        single, to=replace(single.to, at="oak", joined_with=(CHOKED, *single.to.joined_with))
    )

    mark = mark_of("own", build=RigReply(Rig("winch", (single,))), own=newtons(9042.0))

    assert (mark.verdict, mark.marks) == ("right", 2)


def test_without_an_own_rig_the_given_one_is_taken_and_earns_nothing() -> None:
    mark = mark_of("own", own=newtons(LOAD))

    assert mark.marks == 0
    assert "earns nothing" in words(mark)


def test_the_weakest_item_is_judged_at_the_true_load() -> None:
    truth = mark_of("weak").truth

    assert mark_of("weak", weak=NameReply(truth)).verdict == "right"
    assert mark_of("weak", weak=NameReply("winch-line")).verdict == "wrong"


def test_unfit_gear_is_counted_less_what_is_named_in_vain() -> None:
    assert mark_of("bin", bin=NamesReply(("sling-2",))).marks == 2
    assert mark_of("bin", bin=NamesReply(("sling-2", "bow-1"))).marks == 0
    assert mark_of("bin", bin=NamesReply(())).marks == 0


def test_a_wrong_critical_choice_is_unsafe() -> None:
    assert marked(go=NameReply("no-go")).outcome == "unsafe"
    assert marked(go=NameReply("go")).is_safe


def test_an_order_earns_by_its_longest_correct_run() -> None:
    """One swap of neighbours: three of four stand in order, 2 x (3 - 1)/(4 - 1) = 1.33, so 1."""
    swapped = NamesReply(("stop", "snug", "walk the line", "pull"))
    reversed_order = NamesReply(("pull", "walk the line", "stop", "snug"))

    assert (mark_of("steps", steps=swapped).verdict, mark_of("steps", steps=swapped).marks) == (
        "part",
        1,
    )
    assert mark_of("steps", steps=reversed_order).marks == 0


def test_a_habit_is_named_only_when_two_tasks_show_it() -> None:
    once = marked(total=newtons(5301.0))
    # 5,301 / 1.9 typed on the pull without the total's answer to follow.
    twice = mark_paper(
        scenario(tasks=(TASKS[0], replace(TASKS[1], after=()))),
        {"total": newtons(5301.2), "pull": newtons(2790.1)},
        show,
    )

    assert habits(task.slips for task in once.tasks) == ()
    assert habits(task.slips for task in twice.tasks) == ("rolling-left-out",)


def test_marks_never_pass_their_task_and_the_sum_is_the_parts() -> None:
    paper = marked(total=newtons(TOTAL), build=RigReply(self_recovery()), go=NameReply("go"))

    assert all(0 <= mark.marks <= mark.out_of for mark in paper.tasks)
    assert paper.marks == sum(mark.marks for mark in paper.tasks)
    assert paper.out_of == 20
