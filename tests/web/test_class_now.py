"""Class now: the title answers, answers arrive, the usual mistake is named and explained."""

import re
from datetime import datetime
from math import cos, sin

import pytest

from coursekit.rigging.site import Situation
from coursekit.services import answering
from coursekit.services.answering import Join, TypedAnswer
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import ANSWERS, SEED, answer, handed_in, started
from tests.web.visitor import Visitor


def answered(unit: Unit, cast: Cast, now: datetime, name: str, total: str) -> None:
    """Let one more student answer the total and hand in."""
    student = answering.join_class(unit, Join(cast.join_code, name), now).person.actor
    attempt_id = answering.start_attempt(unit, student, cast.class_scenario_id, now, seed=SEED)
    one = TypedAnswer(attempt_id, "total", total, f"total-of-{name[:2]}")
    answering.save_answer(unit, student, one, now)
    answering.submit_attempt(unit, student, attempt_id, now)


def weight(unit: Unit, cast: Cast, now: datetime) -> float:
    """Return the weight of the vehicle in the numbers of all students here. [kN]."""
    return _situation(unit, cast, now).stuck.mass * 9.80665 / 1000


def total(unit: Unit, cast: Cast, now: datetime) -> float:
    """Return the total resistance in these numbers, reckoned by hand: plain statics. [kN].

    The rolling share of wet grass is the one that the brief shows: 0.14.
    """
    slope = _situation(unit, cast, now).ground.slope
    return weight(unit, cast, now) * (sin(slope) + 0.14 * cos(slope))


def _situation(unit: Unit, cast: Cast, now: datetime) -> Situation:
    attempt_id = started(unit, cast, now)
    return answering.attempt_view(unit, cast.student.actor, attempt_id).scenario.situation


@pytest.fixture
def now_page(cast: Cast) -> str:
    return f"/classes/{cast.class_id}"


def test_before_anything_is_handed_in_it_says_how_many_are_in(
    instructor: Visitor, now_page: str
) -> None:
    assert instructor.open(now_page).heading == "1 is in; nothing is handed in yet"


def test_answers_arrive_task_by_task_before_they_are_handed_in(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, now_page: str
) -> None:
    attempt_id = started(unit, cast, now)
    answer(unit, cast, now, attempt_id, total="6.4 kN", weak="winch-line")
    instructor.open(now_page)

    assert "2 of 7 answered" in instructor.html
    arrived = re.findall(r'data-label="answered">(\d+)<', instructor.html)
    assert [int(n) for n in arrived] == [1, 0, 0, 1, 0, 0, 0]


def test_the_title_says_how_many_have_it_and_which_mistake_was_made_most(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, now_page: str
) -> None:
    right = total(unit, cast, now)
    for name in ("Bo Reed", "Cleo Marsh", "Dara Finch"):
        answered(unit, cast, now, name, f"{right:.2f} kN")
    for name in ("Eli Stone", "Fay Holm"):
        answered(unit, cast, now, name, f"{weight(unit, cast, now):.4g} kN")
    instructor.open(f"{now_page}?task={cast.class_scenario_id}.total")

    assert instructor.heading == "3 of 5 have the total resistance; 2: weight taken for resistance"
    assert instructor.title == f"{instructor.heading} · coursekit"
    assert "Made most often (2): weight taken for resistance." in instructor.html
    # The explanation speaks with numbers.
    assert re.search(r"[\d.]+ kN is the weight of the vehicle", instructor.html)


def test_each_answer_is_one_shape_beside_the_truth_and_the_mistake(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, now_page: str
) -> None:
    right = total(unit, cast, now)
    answered(unit, cast, now, "Bo Reed", f"{right:.2f} kN")
    answered(unit, cast, now, "Cleo Marsh", f"{weight(unit, cast, now):.4g} kN")
    answered(unit, cast, now, "Dara Finch", f"{1.7 * right:.3f} kN")
    instructor.open(f"{now_page}?task={cast.class_scenario_id}.total")
    shapes = re.findall(r'<g class="shape (\w+)" transform="translate\(([\d.]+)', instructor.html)
    places = {kind: float(x) for kind, x in shapes}

    assert len(shapes) == 3
    assert places["right"] < places["other"] < places["slip"]
    assert re.search(r">truth [\d.]+ kN</text>", instructor.html)
    assert ">weight taken for resistance" in instructor.html
    assert 'role="img"' in instructor.html
    assert "1 answers count as right, 1 meet a usual mistake, 1 neither." in instructor.html


def test_the_task_that_most_have_wrong_comes_first(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, now_page: str
) -> None:
    right = f"{total(unit, cast, now):.2f} kN"
    handed_in(unit, cast, now, **(ANSWERS | {"total": right}))
    answered(unit, cast, now, "Bo Reed", right)
    instructor.open(now_page)

    # Ana has all but the load at the rear, Bo nothing but the total.
    assert instructor.heading.startswith("0 of 2 have the load on loaded utility 4x4, rear")


def test_a_student_who_handed_in_has_marks_an_outcome_and_a_paper(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, now_page: str
) -> None:
    attempt_id = handed_in(unit, cast, now)
    instructor.open(now_page)

    assert f'href="/papers/{attempt_id}"' in instructor.html
    assert re.search(r">[\d.]+ of 18<span", instructor.html)
    assert re.search(r"</span> (Competent|Not yet competent|Unsafe)</span>", instructor.html)


def test_the_live_part_is_served_alone_and_only_when_it_has_changed(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, now_page: str
) -> None:
    first = instructor.client.get(f"{now_page}/live")
    same = instructor.client.get(
        f"{now_page}/live", headers={"If-None-Match": first.headers["ETag"]}
    )
    handed_in(unit, cast, now)
    new = instructor.client.get(
        f"{now_page}/live", headers={"If-None-Match": first.headers["ETag"]}
    )

    assert (first.status_code, same.status_code, new.status_code) == (200, 304, 200)
    assert same.data == b""
    assert "<html" not in first.text
    assert "<form" not in first.text


def test_the_page_holds_the_live_part_so_that_it_needs_no_script(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, now_page: str
) -> None:
    handed_in(unit, cast, now)
    live = instructor.client.get(f"{now_page}/live").text

    assert live in instructor.open(now_page).html


def test_a_class_that_is_over_asks_for_nothing_new(instructor: Visitor, now_page: str) -> None:
    instructor.open(f"{now_page}/close").send()

    assert "live.js" not in instructor.open(now_page).html
