"""An examination of an item: what it keeps, what it asks for, what follows."""

import math
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime

import pytest

from coursekit.problems import Problems
from coursekit.services import inspecting, kit
from coursekit.services.accounting import verify
from coursekit.services.errors import Conflict, RoleNeeded
from coursekit.services.inspecting import Inspection
from coursekit.services.kit import ItemLife
from coursekit.store.unit import Unit
from coursekit.wear.inspection import Looked, Seen
from tests.cast import Cast
from tests.looks import examined

WORN = Looked(Seen.UNSEEN, (0.019, 0.017), ("19 mm", "17 mm"))


@pytest.fixture
def bow(cast: Cast) -> int:
    return cast.items["Bow 1"]


def life(unit: Unit, cast: Cast, item_id: int) -> ItemLife:
    return kit.item_life(unit, cast.storekeeper.actor, item_id, date(2026, 6, 13))


def of_bow(bow: int, lines: Mapping[str, Looked] | None = None, findings: str = "") -> Inspection:
    """Return an examination of the shackle, all fine but for these lines."""
    whole = examined("bow-shackle", bow, 2, "inspect-1")
    return replace(whole, lines={**whole.lines, **(lines or {})}, findings=findings)


def refused(unit: Unit, cast: Cast, form: Inspection, now: datetime) -> list[str]:
    """Return the fields that a refusal names; nothing was written."""
    with pytest.raises(Problems) as problems:
        inspecting.inspect(unit, cast.storekeeper.actor, form, now)

    assert [line.kind for line in life(unit, cast, form.item_id).lines] == ["received", "inspected"]
    return [problem.where.field for problem in problems.value.items]


def test_an_inspection_moves_the_next_one(unit: Unit, cast: Cast, now: datetime, bow: int) -> None:
    inspecting.inspect(unit, cast.storekeeper.actor, of_bow(bow), now)

    # LOLER 1998 reg. 9(3)(a): lifting accessories at least every six months.
    assert life(unit, cast, bow).item.due.reasons[0].on == date(2026, 12, 13)


def test_an_item_that_fails_goes_into_quarantine(
    unit: Unit, cast: Cast, now: datetime, bow: int
) -> None:
    form = of_bow(bow, {"threads": Looked(Seen.FOUND)}, "threads crushed")
    inspecting.inspect(unit, cast.storekeeper.actor, form, now)
    found = life(unit, cast, bow)

    assert found.item.status == "quarantined"
    assert [line.kind for line in found.lines[-2:]] == ["inspected", "quarantined"]
    assert found.lines[-1].reason == "threads crushed"
    assert found.item.counts.last_inspected == date(2026, 6, 6)


def test_a_size_fails_the_item_by_itself(unit: Unit, cast: Cast, now: datetime, bow: int) -> None:
    form = of_bow(bow, {"worn": WORN}, "worn in the bow")
    inspecting.inspect(unit, cast.storekeeper.actor, form, now)
    found = life(unit, cast, bow)
    (kept,) = [line for line in found.lines[-2].detail["lines"] if line["line"] == "worn"]

    # 2 mm of 19 mm are over the tenth of ASME B30.26, 26-1.8.4.
    assert found.lines[-2].passed is False
    assert kept == {
        "line": "worn",
        "seen": "found",
        "sizes": [0.019, 0.017],
        "typed": ["19 mm", "17 mm"],
    }


def test_the_entry_keeps_every_line_the_list_and_why_it_was_examined(
    unit: Unit, cast: Cast, now: datetime, bow: int
) -> None:
    form = replace(of_bow(bow), occasion="after", event="a jerk  on the stump")
    inspecting.inspect(unit, cast.storekeeper.actor, form, now)
    detail = life(unit, cast, bow).lines[-1].detail

    assert (detail["list"], detail["occasion"]) == ("bow-shackle", "after")
    assert detail["event"] == "a jerk on the stump"
    assert [line["line"] for line in detail["lines"]] == list(form.lines)
    assert {line["seen"] for line in detail["lines"]} == {"fine"}
    assert verify(unit, cast.storekeeper.actor).holds


def test_a_pass_needs_every_line_looked_at(unit: Unit, cast: Cast, now: datetime, bow: int) -> None:
    form = of_bow(bow, {"pin": Looked(Seen.UNSEEN), "heat": Looked(Seen.UNSEEN)})

    assert refused(unit, cast, form, now) == ["lines.pin", "lines.heat"]


def test_a_line_that_is_missing_was_not_looked_at(
    unit: Unit, cast: Cast, now: datetime, bow: int
) -> None:
    whole = of_bow(bow)
    form = replace(whole, lines={key: seen for key, seen in whole.lines.items() if key != "pin"})

    assert refused(unit, cast, form, now) == ["lines.pin"]


def test_what_was_found_needs_no_look_at_the_rest(
    unit: Unit, cast: Cast, now: datetime, bow: int
) -> None:
    form = replace(of_bow(bow), lines={"shape": Looked(Seen.FOUND)}, findings="bent")
    inspecting.inspect(unit, cast.storekeeper.actor, form, now)

    assert life(unit, cast, bow).item.status == "quarantined"


def test_a_failure_is_told_and_an_event_too(
    unit: Unit, cast: Cast, now: datetime, bow: int
) -> None:
    form = replace(of_bow(bow, {"shape": Looked(Seen.FOUND)}, "  "), occasion="after", event=" ")

    assert refused(unit, cast, form, now) == ["findings", "event"]


@pytest.mark.parametrize(
    ("sizes", "field"),
    [
        ((-0.019, 0.017), "lines.worn.as-new"),
        ((0.0, 0.0), "lines.worn.as-new"),
        ((0.019, -0.001), "lines.worn.now"),
        ((math.nan, 0.017), "lines.worn.as-new"),
        ((0.019, math.inf), "lines.worn.now"),
        ((0.017, 0.019), "lines.worn.now"),
        ((0.019,), "lines.worn"),
    ],
)
def test_a_size_that_cannot_be_is_refused_at_its_line(
    unit: Unit, cast: Cast, now: datetime, bow: int, sizes: tuple[float, ...], field: str
) -> None:
    form = of_bow(bow, {"worn": Looked(Seen.FINE, sizes, ("x", "y"))})

    assert refused(unit, cast, form, now) == [field]


def test_a_line_that_is_only_looked_at_takes_no_size(
    unit: Unit, cast: Cast, now: datetime, bow: int
) -> None:
    form = of_bow(bow, {"threads": Looked(Seen.FINE, (0.019, 0.018), ("19 mm", "18 mm"))})

    assert refused(unit, cast, form, now) == ["lines.threads"]


def test_the_list_of_another_kind_is_refused(
    unit: Unit, cast: Cast, now: datetime, bow: int
) -> None:
    sling = examined("roundsling", bow, 2, "inspect-1")

    assert refused(unit, cast, sling, now) == ["listed"]
    assert refused(unit, cast, replace(sling, listed="bow-shackle"), now) == ["listed"]


@pytest.mark.parametrize("occasion", ["", "whenever"])
def test_an_occasion_is_one_of_those_known(
    unit: Unit, cast: Cast, now: datetime, bow: int, occasion: str
) -> None:
    assert refused(unit, cast, replace(of_bow(bow), occasion=occasion), now) == ["occasion"]


def test_what_is_sent_twice_counts_once_and_with_other_lines_is_a_conflict(
    unit: Unit, cast: Cast, now: datetime, bow: int
) -> None:
    tobin = cast.storekeeper.actor
    form = of_bow(bow, {"worn": WORN}, "worn in the bow")
    inspecting.inspect(unit, tobin, form, now)
    inspecting.inspect(unit, tobin, form, now)
    other = replace(form, lines={**form.lines, "gouged": Looked(Seen.FOUND)})

    with pytest.raises(Conflict, match="other content"):
        inspecting.inspect(unit, tobin, other, now)
    assert len(life(unit, cast, bow).lines) == 4


def test_a_form_that_is_older_than_the_item_is_a_conflict(
    unit: Unit, cast: Cast, now: datetime, bow: int
) -> None:
    with pytest.raises(Conflict):
        inspecting.inspect(unit, cast.storekeeper.actor, replace(of_bow(bow), seen=1), now)


def test_a_student_examines_nothing(unit: Unit, cast: Cast, now: datetime, bow: int) -> None:
    with pytest.raises(RoleNeeded):
        inspecting.inspect(unit, cast.student.actor, of_bow(bow), now)


def test_what_is_retired_is_examined_no_more(
    unit: Unit, cast: Cast, now: datetime, bow: int
) -> None:
    mara = cast.instructor.actor.person_id
    end = kit.Retirement(bow, 2, "worn", "cut in three", mara, "retire-1")
    kit.retire(unit, cast.storekeeper.actor, end, now)

    with pytest.raises(Problems, match="retired is final"):
        inspecting.inspect(unit, cast.storekeeper.actor, replace(of_bow(bow), seen=3), now)
