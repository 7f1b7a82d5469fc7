"""The yard: notes that stay, lists that are final, and two assessors who agree."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from coursekit.assessment.school_policy import SchoolPolicy
from coursekit.problems import Problems
from coursekit.services import policies, teaching, yard
from coursekit.services.actor import Actor, Role
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded
from coursekit.services.policies import PolicyChange
from coursekit.services.results import class_results
from coursekit.services.yard import Agreed, Noted, Standing
from coursekit.services.yard_places import YardPlace
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import colleague
from tests.shell.yard import CRITERIA, YardWorld, mark_all, yard_world


@pytest.fixture
def world(unit: Unit, cast: Cast, tmp_path: Path, now: datetime) -> YardWorld:
    return yard_world(unit, cast, tmp_path, now)


def noted(world: YardWorld, **other: object) -> Noted:
    one = Noted(world.enrolment_id, world.place, "brief.roles", 2, "", "yard-key-1")
    return replace(one, **other)  # type: ignore[arg-type]  # fields of a test, by name


def sheet(unit: Unit, world: YardWorld, who: object) -> yard.YardSheetView:
    return yard.yard_sheet(unit, who, world.enrolment_id, world.place)  # type: ignore[arg-type]  # an actor


def test_the_last_note_counts_and_one_sent_twice_counts_once(
    unit: Unit, world: YardWorld, now: datetime
) -> None:
    yard.note(unit, world.mara, noted(world, level=0), now)
    yard.note(unit, world.mara, noted(world, level=2, key="yard-key-2"), now)
    yard.note(unit, world.mara, noted(world, level=0), now)
    assert sheet(unit, world, world.mara).seen["brief.roles"].level == 2
    assert sheet(unit, world, world.rowan).seen == {}


@pytest.mark.parametrize("other", [{"level": 0}, {"note": "no"}, {"criterion": "pull.slow"}])
def test_a_key_with_other_content_is_no_silent_success(
    unit: Unit, world: YardWorld, now: datetime, other: dict[str, object]
) -> None:
    yard.note(unit, world.mara, noted(world), now)
    with pytest.raises(Conflict, match="sent before with other content"):
        yard.note(unit, world.mara, noted(world, **other), now)


@pytest.mark.parametrize(
    ("other", "field"),
    [
        ({"criterion": "brief.other"}, "criterion"),
        ({"level": 3}, "level"),
        ({"level": -1}, "level"),
        ({"note": "x" * 501}, "note"),
        ({"key": ""}, "key"),
    ],
)
def test_what_can_not_be_is_told_by_field(
    unit: Unit, world: YardWorld, now: datetime, other: dict[str, object], field: str
) -> None:
    with pytest.raises(Problems, match=field):
        yard.note(unit, world.mara, noted(world, **other), now)


def test_a_list_is_handed_in_whole_and_is_final(
    unit: Unit, world: YardWorld, now: datetime
) -> None:
    with pytest.raises(Refused, match="3 criteria"):
        yard.hand_in(unit, world.mara, world.enrolment_id, world.place, now)
    mark_all(unit, world, world.mara, "222", now)
    with pytest.raises(Refused, match="handed this list in"):
        yard.note(unit, world.mara, noted(world, key="yard-key-9"), now)
    view = sheet(unit, world, world.mara)
    assert view.place.outcome is not None
    assert view.place.outcome.outcome == "competent"


def test_two_who_differ_agree_with_a_reason_and_both_lists_stay(
    unit: Unit, world: YardWorld, now: datetime
) -> None:
    mark_all(unit, world, world.mara, "222", now)
    mark_all(unit, world, world.rowan, "022", now)
    view = sheet(unit, world, world.mara)
    assert view.place.must_agree
    assert view.place.outcome is None
    assert view.place.compared is not None
    assert view.place.compared.passed_by_one == 1
    one = Agreed(world.enrolment_id, world.place, {"brief.stop-word": 0}, "he said it too late")
    for wrong in (replace(one, reason=" "), replace(one, levels={})):
        with pytest.raises(Problems):
            yard.agree(unit, world.mara, wrong, now)
    yard.agree(unit, world.mara, one, now)
    place = sheet(unit, world, world.mara).place
    assert place.outcome is not None
    assert place.outcome.outcome == "unsafe"
    assert [row.kind for row in place.sheets] == ["own", "own", "agreed"]
    with pytest.raises(Refused, match="nothing to agree"):
        yard.agree(unit, world.rowan, one, now)


def agreed(world: YardWorld, **levels: int) -> Agreed:
    """Return what is agreed on, with `_` for what stands in the names of criteria."""
    by_name = {name.replace("_", ".", 1).replace("_", "-"): one for name, one in levels.items()}
    return Agreed(world.enrolment_id, world.place, by_name, "looked at again")


def test_only_the_two_who_marked_it_agree(
    unit: Unit, cast: Cast, world: YardWorld, now: datetime
) -> None:
    third = colleague(unit, cast, "Ines Roe").actor
    mark_all(unit, world, world.mara, "222", now)
    mark_all(unit, world, world.rowan, "122", now)
    with pytest.raises(Refused, match="not marked this list"):
        yard.agree(unit, third, agreed(world, brief_stop_word=1), now)
    yard.agree(unit, world.rowan, agreed(world, brief_stop_word=1), now)


def test_a_third_notes_nothing(unit: Unit, cast: Cast, world: YardWorld, now: datetime) -> None:
    """Not after a whole list was noted, but with its first level."""
    third = colleague(unit, cast, "Ines Roe").actor
    for who in (world.mara, world.rowan):
        mark_all(unit, world, who, "222", now)
    with pytest.raises(Refused, match="Two assessors have marked this list"):
        yard.note(unit, third, noted(world, key="yard-key-3"), now)
    assert sheet(unit, world, third).standing is Standing.BY_TWO


def test_who_saw_it_talks_nobody_out_of_what_was_critical_and_not_shown(
    unit: Unit, world: YardWorld, now: datetime
) -> None:
    mark_all(unit, world, world.mara, "222", now)
    mark_all(unit, world, world.rowan, "020", now)
    for level in (1, 2):
        one = agreed(world, brief_stop_word=level, pull_slow=2)
        with pytest.raises(Problems, match="stop-word: It is critical") as found:
            yard.agree(unit, world.mara, one, now)
        assert len(found.value.items) == 1
    yard.agree(unit, world.rowan, agreed(world, brief_stop_word=2, pull_slow=2), now)
    outcome = sheet(unit, world, world.mara).place.outcome
    assert outcome is not None
    assert outcome.outcome == "competent"


def test_what_is_critical_rises_no_higher_than_one_of_them_saw_it(
    unit: Unit, world: YardWorld, now: datetime
) -> None:
    mark_all(unit, world, world.mara, "122", now)
    mark_all(unit, world, world.rowan, "022", now)
    with pytest.raises(Problems, match="stop-word: It is critical"):
        yard.agree(unit, world.rowan, agreed(world, brief_stop_word=2), now)
    yard.agree(unit, world.rowan, agreed(world, brief_stop_word=1), now)


def test_of_two_who_agree_at_once_one_counts(unit: Unit, world: YardWorld, now: datetime) -> None:
    mark_all(unit, world, world.mara, "222", now)
    mark_all(unit, world, world.rowan, "212", now)

    def send(who: Actor) -> bool:
        try:
            yard.agree(unit, who, agreed(world, brief_roles=1), now)
        except Refused:
            return False
        return True

    with ThreadPoolExecutor(2) as phones:
        kept = list(phones.map(send, (world.mara, world.rowan)))
    assert sorted(kept) == [False, True]
    kinds = [row.kind for row in sheet(unit, world, world.mara).place.sheets]
    assert kinds == ["own", "own", "agreed"]


def test_two_who_agree_need_no_more(unit: Unit, world: YardWorld, now: datetime) -> None:
    mark_all(unit, world, world.mara, "221", now)
    mark_all(unit, world, world.rowan, "221", now)
    found = yard.yard_of_class(unit, world.mara, world.class_id)
    assert found.places[0].outcome is not None
    assert found.agreement is not None
    assert (found.agreement.criteria, found.agreement.agreed) == (3, 3)


def test_a_second_assessor_is_blind_until_the_own_list_is_in(
    unit: Unit, cast: Cast, world: YardWorld, now: datetime
) -> None:
    def seen_by(who: Actor) -> YardPlace:
        (place,) = yard.yard_of_class(unit, who, world.class_id).places
        return place

    rowan, ines = world.rowan, colleague(unit, cast, "Ines Roe").actor
    mark_all(unit, world, ines, "022", now)
    hidden = seen_by(rowan)
    assert (hidden.outcome, hidden.compared, hidden.is_blind) == (None, None, True)
    assert [(one.assessor, one.levels, one.notes) for one in hidden.sheets] == [
        ("Ines Roe", {}, {})
    ]
    assert hidden.is_settled
    assert seen_by(ines).outcome == seen_by(world.mara).outcome is not None
    assert Role.HEAD in world.mara.roles

    mark_all(unit, world, rowan, "022", now)
    assert seen_by(rowan).outcome == seen_by(ines).outcome is not None


def test_once_the_class_is_over_nothing_is_hidden(
    unit: Unit, cast: Cast, world: YardWorld, now: datetime
) -> None:
    mark_all(unit, world, world.mara, "022", now)
    teaching.close_class(unit, world.mara, world.class_id, now)
    (place,) = yard.yard_of_class(unit, world.rowan, world.class_id).places
    assert place.outcome is not None


def test_paper_and_yard_must_both_be_competent(unit: Unit, world: YardWorld, now: datetime) -> None:
    def outcome() -> str:
        return class_results(unit, world.mara, world.class_id).students[0].outcome

    assert outcome() == "not-yet"
    mark_all(unit, world, world.mara, "222", now)
    assert outcome() == "not-yet"


def test_a_list_is_decided_by_the_pass_mark_of_the_day_it_was_handed_in(
    unit: Unit, cast: Cast, tmp_path: Path, now: datetime
) -> None:
    world = yard_world(unit, cast, tmp_path, now, names_pass=False)
    mark_all(unit, world, world.mara, "201", now)

    def outcome() -> str | None:
        (place,) = yard.yard_of_class(unit, world.mara, world.class_id).places
        return None if place.outcome is None else place.outcome.outcome

    assert outcome() == "not-yet"
    seen = policies.policy_in_force(unit, world.mara).number
    lower = PolicyChange(SchoolPolicy(pass_share=0.3), "As the panel found", seen)
    policies.change_policy(unit, world.mara, lower, now)
    assert outcome() == "not-yet"
    mark_all(unit, world, world.rowan, "201", now)
    assert outcome() == "not-yet"


def test_danger_in_the_yard_makes_the_class_unsafe(
    unit: Unit, world: YardWorld, now: datetime
) -> None:
    mark_all(unit, world, world.mara, "022", now)
    assert class_results(unit, world.mara, world.class_id).students[0].outcome == "unsafe"


def test_what_is_not_handed_in_when_the_class_closes_stays_so(
    unit: Unit, world: YardWorld, now: datetime
) -> None:
    place = (world.enrolment_id, world.place)
    for name in CRITERIA:
        yard.note(unit, world.rowan, noted(world, criterion=name, key=f"key-{name[-4:]}"), now)
    teaching.close_class(unit, world.mara, world.class_id, now)
    with pytest.raises(Refused, match="class is not open"):
        yard.hand_in(unit, world.rowan, *place, now)
    with pytest.raises(Refused, match="class is not open"):
        yard.note(unit, world.rowan, noted(world, key="yard-key-9"), now)
    assert sheet(unit, world, world.rowan).standing is Standing.NOT_OPEN


def test_two_who_differ_may_agree_once_the_class_is_closed(
    unit: Unit, world: YardWorld, now: datetime
) -> None:
    mark_all(unit, world, world.mara, "222", now)
    mark_all(unit, world, world.rowan, "212", now)
    teaching.close_class(unit, world.mara, world.class_id, now)
    yard.agree(unit, world.rowan, agreed(world, brief_roles=1), now)
    assert sheet(unit, world, world.mara).place.outcome is not None


def test_only_instructors_of_the_school_mark(
    unit: Unit, cast: Cast, world: YardWorld, now: datetime
) -> None:
    with pytest.raises(NotFound):
        yard.note(unit, cast.outsider.actor, noted(world), now)
    for who in (world.student, cast.storekeeper.actor):
        with pytest.raises(RoleNeeded):
            yard.note(unit, who, noted(world), now)
