"""Issue and return: the list of a class, what goes out, and in what condition it comes back."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from coursekit.problems import Problems
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import solve
from coursekit.services import issuing, kit, pulls, teaching
from coursekit.services.accounting import verify
from coursekit.services.class_now import class_now
from coursekit.services.counter import Counter
from coursekit.services.demand import demand
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded
from coursekit.services.issuing import GiveBack, Issue
from coursekit.services.kit_list import KitList, kit_list
from coursekit.services.planning import ClassPlan
from coursekit.services.pull_desk import kit_in_rig
from coursekit.services.pulls import DeclaredPull
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store.unit import Unit
from coursekit.wear.schedule import Bar, Cause, Reason
from tests.cast import TODAY, Cast
from tests.kit_acts import hold


def listed(unit: Unit, cast: Cast) -> KitList:
    return kit_list(unit, cast.storekeeper.actor, cast.class_id, TODAY)


def issue_of(cast: Cast, *marks: str, key: str = "issue-001") -> Issue:
    return Issue(cast.class_id, tuple(cast.items[mark] for mark in marks), key)


def issued(unit: Unit, cast: Cast, now: datetime, *marks: str) -> None:
    issuing.issue(unit, cast.storekeeper.actor, issue_of(cast, *marks), now)


def back(cast: Cast, damage: str = "", key: str = "return-01", **conditions: str) -> GiveBack:
    marks = {mark.replace("_", " "): condition for mark, condition in conditions.items()}
    told = {cast.items[m]: damage for m, c in marks.items() if c == "damage"}
    return GiveBack(cast.class_id, {cast.items[m]: c for m, c in marks.items()}, told, key)


def statuses(unit: Unit, cast: Cast) -> dict[str, str]:
    return {row.mark: row.status for row in kit.list_items(unit, cast.storekeeper.actor, TODAY)}


@pytest.mark.independent("the proposed rig, solved anew with the ratings of the proposed items")
def test_the_list_allows_a_safe_rig_of_every_scenario(unit: Unit, cast: Cast) -> None:
    found = listed(unit, cast)
    (one,) = found.rigs
    assert one.rig is not None
    situation = situation_of(unit, cast)
    gear = {
        name: kit_in_rig(one.items[name], one.items[name].type).rated(item)
        if name in one.items
        else item
        for name, item in situation.gear.items()
    }

    assert set(one.items) == set(one.rig.items())
    assert solve(replace(situation, gear=gear), one.rig).stops == ()
    assert all(row.due.may_go_out for row in found.proposed)


def situation_of(unit: Unit, cast: Cast) -> Situation:
    now = class_now(unit, cast.instructor.actor, cast.class_id)
    return now.scenarios[0].scenario.situation


def test_what_is_held_is_left_out_with_its_reason_and_replaced(unit: Unit, cast: Cast) -> None:
    before = {row.mark for row in listed(unit, cast).proposed}
    assert "Bow 1" in before
    hold(unit, cast, "Bow 1")
    found = listed(unit, cast)

    assert "Bow 1" in {row.mark for row in found.held}
    assert "Bow 2" in {row.mark for row in found.proposed}


def test_what_the_store_lacks_is_named(unit: Unit, cast: Cast) -> None:
    hold(unit, cast, "Line 1")
    found = listed(unit, cast)

    assert found.rigs[0].rig is None
    assert found.rigs[0].lacking == ("winch-line",)
    assert found.proposed == ()


def test_what_is_issued_is_out_and_comes_back_into_the_store(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    issued(unit, cast, now, "Line 1", "Bow 1")
    assert {m for m, s in statuses(unit, cast).items() if s == "out"} == {"Line 1", "Bow 1"}
    assert {row.mark for row in listed(unit, cast).out} == {"Line 1", "Bow 1"}

    issuing.give_back(unit, cast.storekeeper.actor, back(cast, Line_1="clean", Bow_1="clean"), now)

    assert set(statuses(unit, cast).values()) == {"in-store"}
    assert listed(unit, cast).out == ()
    assert verify(unit, cast.storekeeper.actor).holds


def test_wet_and_mud_are_noted_and_damage_is_held(unit: Unit, cast: Cast, now: datetime) -> None:
    issued(unit, cast, now, "Line 1", "Sling 1", "Bow 1")
    form = back(cast, "cut near one eye", Line_1="wet", Sling_1="damage", Bow_1="mud")
    issuing.give_back(unit, cast.storekeeper.actor, form, now)

    def kinds(mark: str) -> list[str]:
        life = kit.item_life(unit, cast.storekeeper.actor, cast.items[mark], TODAY)
        return [line.kind for line in life.lines][-2:]

    assert kinds("Line 1") == ["returned", "exposure"]
    assert kinds("Bow 1") == ["returned", "exposure"]
    assert kinds("Sling 1") == ["returned", "quarantined"]
    assert statuses(unit, cast)["Sling 1"] == "quarantined"


def test_damage_is_told(unit: Unit, cast: Cast, now: datetime) -> None:
    issued(unit, cast, now, "Sling 1")
    with pytest.raises(Problems, match="damage"):
        issuing.give_back(unit, cast.storekeeper.actor, back(cast, Sling_1="damage"), now)

    assert statuses(unit, cast)["Sling 1"] == "out"


def test_one_that_can_not_go_out_keeps_all_of_them(unit: Unit, cast: Cast, now: datetime) -> None:
    hold(unit, cast, "Bow 1")
    with pytest.raises(Problems, match="Bow 1 can't go out: it is in quarantine"):
        issued(unit, cast, now, "Line 1", "Bow 1")

    assert statuses(unit, cast)["Line 1"] == "in-store"


def test_what_is_due_stays(unit: Unit, cast: Cast, now: datetime) -> None:
    late = now + timedelta(days=300)
    with pytest.raises(Problems, match="Line 1 can't go out: it has to be examined first"):
        issuing.issue(unit, cast.storekeeper.actor, issue_of(cast, "Line 1"), late)


def test_everything_that_keeps_an_item_in_the_store_is_told_in_words(
    unit: Unit, cast: Cast
) -> None:
    bow = cast.items["Bow 1"]
    item = issuing.item_desk(unit, cast.storekeeper.actor, bow, None, TODAY).item
    causes = tuple(Reason(cause, TODAY, is_due=True) for cause in Cause)
    row = replace(item, due=replace(item.due, bars=tuple(Bar), reasons=causes))
    counter = Counter((row,), (row,), 0, demand(ClassPlan(0, 0, ()), [row]))
    with pytest.raises(Problems) as refused:
        counter.refuse_unfit()

    (problem,) = refused.value.items
    assert problem.what == (
        "Bow 1 can't go out: its rating can't be read, its type has no rating, "
        "nobody knows when it was made, it is in quarantine, it is retired, it is lost, "
        "it is out with a class, its use count is spent, it is too old, it is too long in use, "
        "it has to be examined first"
    )


def test_what_is_out_is_not_issued_again(unit: Unit, cast: Cast, now: datetime) -> None:
    issued(unit, cast, now, "Line 1")
    with pytest.raises(Problems, match="is out already"):
        issuing.issue(unit, cast.storekeeper.actor, issue_of(cast, "Line 1", key="issue-002"), now)


def test_a_form_sent_twice_counts_once(unit: Unit, cast: Cast, now: datetime) -> None:
    for _ in range(2):
        issued(unit, cast, now, "Line 1", "Bow 1")
    form = back(cast, Line_1="wet", Bow_1="clean")
    for _ in range(2):
        issuing.give_back(unit, cast.storekeeper.actor, form, now)
    life = kit.item_life(unit, cast.storekeeper.actor, cast.items["Line 1"], TODAY)

    assert [line.kind for line in life.lines][-3:] == ["issued", "returned", "exposure"]


def test_a_key_with_other_items_is_a_conflict(unit: Unit, cast: Cast, now: datetime) -> None:
    issued(unit, cast, now, "Line 1")
    with pytest.raises(Conflict, match="other items"):
        issued(unit, cast, now, "Line 1", "Bow 1")


def test_a_key_with_another_class_is_a_conflict(unit: Unit, cast: Cast, now: datetime) -> None:
    """It was taken for sent already, and the second class went without a word."""
    mara = cast.instructor.actor
    new = NewClass(cast.course_id, "Sunday group", TODAY)
    other = teaching.create_class(unit, mara, new, now)
    teaching.choose_scenarios(unit, mara, ScenarioChoice(other, (cast.version_id,), seen=1))
    teaching.open_class(unit, mara, other, now)
    issued(unit, cast, now, "Line 1")

    elsewhere = replace(issue_of(cast, "Line 1"), class_id=other)
    with pytest.raises(Conflict, match="other content"):
        issuing.issue(unit, cast.storekeeper.actor, elsewhere, now)


def test_only_what_is_out_with_the_class_comes_back(unit: Unit, cast: Cast, now: datetime) -> None:
    with pytest.raises(Problems, match="not out with this class"):
        issuing.give_back(unit, cast.storekeeper.actor, back(cast, Bow_1="clean"), now)


def test_a_pull_that_quarantines_leaves_the_item_out_until_it_is_brought_back(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    issued(unit, cast, now, "Rope 1")
    pull = DeclaredPull(
        cast.class_id, cast.items["Rope 1"], "kinetic", "heavy", "parted", "parted-01"
    )
    pulls.record_declared_pull(unit, cast.instructor.actor, pull, now)
    assert {row.mark for row in listed(unit, cast).out} == {"Rope 1"}

    issuing.give_back(unit, cast.storekeeper.actor, back(cast, Rope_1="clean"), now)

    assert statuses(unit, cast)["Rope 1"] == "quarantined"
    assert listed(unit, cast).out == ()


def test_kit_goes_out_with_an_open_class_of_the_school_alone(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    with pytest.raises(NotFound):
        issuing.issue(
            unit, cast.storekeeper.actor, replace(issue_of(cast, "Line 1"), class_id=999), now
        )
    with pytest.raises(NotFound):
        issuing.issue(unit, cast.outsider.actor, issue_of(cast, "Line 1"), now)
    with pytest.raises(RoleNeeded):
        issuing.issue(unit, cast.student.actor, issue_of(cast, "Line 1"), now)


def test_nothing_goes_out_with_a_class_that_is_over(unit: Unit, cast: Cast, now: datetime) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    with pytest.raises(Refused, match="not open"):
        issued(unit, cast, now, "Line 1")
