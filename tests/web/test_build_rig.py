"""Building a rig with plain form controls."""

from html import unescape
from typing import Any

import pytest

from coursekit.services import answering
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.web.rigs import SINGLE_LINE, TURNED
from tests.web.visitor import Visitor


@pytest.fixture
def build(student: Visitor, attempt: str) -> Visitor:
    return student.open(f"{attempt}/tasks/build")


def rig(unit: Unit, cast: Cast, visitor: Visitor) -> Any:
    attempt_id = int(visitor.path.split("/")[2])
    return answering.attempt_view(unit, cast.student.actor, attempt_id).answers["build"]["rig"]


def test_a_single_line_becomes_the_document_of_the_format(
    unit: Unit, cast: Cast, build: Visitor
) -> None:
    build.send(**SINGLE_LINE)

    assert build.path.endswith("/tasks/rear")
    assert rig(unit, cast, build) == {
        "method": "winch",
        "lines": [
            {
                "from": "recovery_vehicle.winch",
                "made_of": ["winch-line"],
                "to": {"at": "stuck_vehicle.rear", "with": ["bow-1"]},
                "dampers": ["damper-1"],
            }
        ],
    }


def test_pulleys_hitches_and_joined_lines_stand_where_they_were_put(
    unit: Unit, cast: Cast, build: Visitor
) -> None:
    build.send(**TURNED)
    line = rig(unit, cast, build)["lines"][0]

    assert line["made_of"] == ["winch-line", "soft-1", "line-2"]
    sling = {"item": "sling-1", "hitch": "basket", "angle": "40 °"}
    assert line["pulleys"] == [{"at": "oak", "by": "ring-1", "with": [sling]}]


def test_a_line_that_holds_is_a_second_line(unit: Unit, cast: Cast, build: Visitor) -> None:
    hold = {
        "hold-start": "oak",
        "hold-start_pieces-0-item": "sling-1",
        "hold-start_pieces-0-hitch": "choker",
        "hold-made_of-0": "line-2",
        "hold-to": "stuck_vehicle.rear",
    }
    build.send(**SINGLE_LINE, **hold)
    second = rig(unit, cast, build)["lines"][1]

    assert second["role"] == "hold"
    assert second["with"] == [{"item": "sling-1", "hitch": "choker"}]


def test_a_kinetic_pull_brings_its_speed(unit: Unit, cast: Cast, build: Visitor) -> None:
    build.send(
        method="kinetic",
        speed="9 km/h",
        drive="2",
        **{
            "drive-unit": "kN",
            "pull-start": "recovery_vehicle.front",
            "pull-start_pieces-0-item": "soft-1",
            "pull-made_of-0": "rope-k",
            "pull-to": "stuck_vehicle.rear",
            "pull-to_pieces-0-item": "bow-1",
        },
    )
    built = rig(unit, cast, build)

    assert (built["speed"], built["drive"]) == ("9 km/h", "2 kN")
    assert built["lines"][0]["with"] == ["soft-1"]


def test_speed_counts_for_nothing_in_a_winch_pull(unit: Unit, cast: Cast, build: Visitor) -> None:
    build.send(speed="9 km/h", **SINGLE_LINE)

    assert "speed" not in rig(unit, cast, build)


@pytest.mark.parametrize(
    "name", ["pull-pulleys", "pull-made_of", "pull-to_pieces", "hold-start_pieces"]
)
def test_a_list_grows_by_its_button_and_everything_else_is_kept(build: Visitor, name: str) -> None:
    before = _rows(build, name)
    build.send(add=name, **SINGLE_LINE)

    assert build.status == 200
    assert build.errors == []
    assert _rows(build, name) == before + 1
    assert build.value("pull-to") == "stuck_vehicle.rear"
    assert build.value("method") == "winch"


def test_a_new_pulley_has_slots_for_what_joins_it_and_they_grow_too(build: Visitor) -> None:
    build.send(add="pull-pulleys")
    build.send(add="pull-pulleys-0-pieces")

    assert _rows(build, "pull-pulleys-0-pieces") == 3


def test_a_list_that_does_not_exist_never_grows(build: Visitor) -> None:
    build.send(add="pull-wheels", **SINGLE_LINE)

    assert build.path.endswith("/tasks/rear")


@pytest.mark.parametrize(
    ("change", "control", "message"),
    [
        ({"pull-to": ""}, "pull-to", "Choose one here"),
        (
            {"pull-made_of-0": "", "pull-made_of-1": "", "pull-made_of-2": ""},
            "pull-made_of-0",
            "Choose one here",
        ),
        ({"pull-start": ""}, "pull-start", "Choose one here"),
        ({"method": ""}, "method", "Choose one here"),
        ({"method": "kinetic"}, "speed", "needs its closing speed"),
        ({"pull-pulleys-0-by": ""}, "pull-pulleys-0-by", "Choose one here"),
        (
            {"pull-pulleys-0-pieces-0-angle-unit": ""},
            "pull-pulleys-0-pieces-0-angle",
            '"40" has no unit',
        ),
        ({"pull-pulleys-0-pieces-0-angle": "400"}, "pull-pulleys-0-pieces-0-angle", "over 180 deg"),
        ({"pull-to": "the.moon"}, "pull-to", "no place"),
        ({"pull-to_pieces-0-item": "chain-9"}, "pull-to_pieces-0-item", "not gear at hand"),
    ],
)
def test_what_keeps_a_rig_from_being_solved_stands_beside_its_control(
    build: Visitor, change: dict[str, str], control: str, message: str
) -> None:
    build.send(**(TURNED | change))

    assert build.status == 422
    assert any(message in error for error in build.errors), (build.errors, build.notices)
    after = unescape(build.html).split(f'name="{control}"')[-1]
    assert message in after.split('<div class="field"')[0]
    assert "keep this rig from being solved" in build.notices[0] or "keeps" in build.notices[0]


def test_an_unsafe_rig_is_taken_as_it_is(unit: Unit, cast: Cast, build: Visitor) -> None:
    build.send(**(SINGLE_LINE | {"pull-to_pieces-0-item": ""}))

    assert build.path.endswith("/tasks/rear")


def test_a_saved_rig_comes_back_on_the_form(build: Visitor) -> None:
    path = build.path
    build.send(**TURNED)
    build.open(path)

    kept = {name: build.value(name) for name in TURNED}
    assert kept == TURNED


def test_the_own_rig_is_told_on_the_tasks_that_ask_about_it(build: Visitor) -> None:
    build.send(**TURNED)

    assert "The rig that you built" in build.html
    assert "It passes Ring 1 at oak with Sling 1 basket legs at 40°." in build.html


def test_a_rig_of_too_many_rows_grows_no_more(build: Visitor) -> None:
    for _row in range(20):
        build.send(add="pull-made_of")

    assert _rows(build, "pull-made_of") == 12


def _rows(visitor: Visitor, name: str) -> int:
    names = {field for form in visitor.forms for field, _value in form.pairs}
    return len(
        {field[len(name) + 1 :].split("-")[0] for field in names if field.startswith(f"{name}-")}
    )
