"""A panel's pass mark: blind first, then with peers in sight, then taken on by the head."""

from datetime import datetime

import pytest

from coursekit.problems import Problems
from coursekit.services import standards
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded
from coursekit.services.results import class_results
from coursekit.services.standards import Adoption, Chances
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import colleague, handed_in
from tests.shell.panel import pass_mark_of_a_panel, rated


def test_in_the_blind_round_a_judge_sees_nobody_else(unit: Unit, cast: Cast, now: datetime) -> None:
    mara, ines = cast.instructor.actor, colleague(unit, cast, "Ines Roe").actor
    sheet_id = standards.open_sheet(unit, mara, cast.version_id, now)
    rated(unit, mara, sheet_id, 0.6, now)
    seen = standards.sheet_of(unit, ines, sheet_id)

    assert (seen.own, seen.peers, seen.cut) == (None, (), None)
    assert seen.judges == ("Mara Quint",)
    own = standards.sheet_of(unit, mara, sheet_id).own
    assert own is not None
    assert set(own.chances.values()) == {0.6}


def test_in_the_second_round_judges_see_one_another_and_may_move(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara, ines = cast.instructor.actor, colleague(unit, cast, "Ines Roe").actor
    sheet_id = standards.open_sheet(unit, mara, cast.version_id, now)
    rated(unit, mara, sheet_id, 0.5, now)
    rated(unit, ines, sheet_id, 0.9, now)
    standards.next_round(unit, mara, sheet_id)
    rated(unit, mara, sheet_id, 0.7, now)
    seen = standards.sheet_of(unit, ines, sheet_id)

    assert [(peer.judge, peer.round) for peer in seen.peers] == [("Ines Roe", 1), ("Mara Quint", 2)]
    assert seen.cut is not None
    assert seen.blind_cut is not None
    assert seen.blind_cut.share == pytest.approx(0.7)
    assert seen.cut.share == pytest.approx(0.8)
    assert seen.cut.standard_error < seen.blind_cut.standard_error
    assert seen.cut.out_of == seen.scenario.out_of


def test_a_judge_who_rates_again_in_a_round_counts_once(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara = cast.instructor.actor
    sheet_id = standards.open_sheet(unit, mara, cast.version_id, now)
    rated(unit, mara, sheet_id, 0.5, now)
    rated(unit, mara, sheet_id, 0.6, now)

    with pytest.raises(Refused, match="Fewer than two judges"):
        standards.next_round(unit, mara, sheet_id)


def test_the_cut_that_is_taken_on_goes_before_every_other_pass_mark(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    pass_mark_of_a_panel(unit, cast, now)
    (line,) = standards.standards(unit, cast.instructor.actor)
    handed_in(unit, cast, now, total="1 N")
    made = class_results(unit, cast.instructor.actor, cast.class_id).students[0].counting[0]

    assert made.decision.rule.pass_share == pytest.approx(0.65)
    assert line.pass_mark is not None
    assert (line.pass_mark.method, line.pass_mark.number) == ("panel", 1)
    assert (line.pass_mark.made_by, line.pass_mark.made_at) == ("Mara Quint", now)
    assert line.pass_mark.judges == ("Ines Roe", "Mara Quint")
    assert line.sheet_id is None


def test_a_pass_mark_leaves_what_was_decided_before_it(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now, total="1 N")
    pass_mark_of_a_panel(unit, cast, now)
    made = class_results(unit, cast.instructor.actor, cast.class_id).students[0].counting[0]

    assert made.decision.rule.pass_share == 0.75


def test_a_closed_sheet_takes_nothing_more_and_another_may_be_opened(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara = cast.instructor.actor
    sheet_id = pass_mark_of_a_panel(unit, cast, now)
    with pytest.raises(Refused, match="sheet is closed"):
        rated(unit, mara, sheet_id, 0.5, now)

    other = standards.open_sheet(unit, mara, cast.version_id, now)
    assert other != sheet_id
    assert standards.open_sheet(unit, mara, cast.version_id, now) == other


def test_a_cut_is_not_taken_on_from_blind_ratings(unit: Unit, cast: Cast, now: datetime) -> None:
    mara, ines = cast.instructor.actor, colleague(unit, cast, "Ines Roe").actor
    sheet_id = standards.open_sheet(unit, mara, cast.version_id, now)
    rated(unit, mara, sheet_id, 0.5, now)
    rated(unit, ines, sheet_id, 0.5, now)

    with pytest.raises(Refused, match="have not seen one another"):
        standards.adopt(unit, mara, Adoption(sheet_id, "x"), now)


def test_every_task_needs_a_chance_and_the_round_must_be_the_present_one(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara = cast.instructor.actor
    sheet_id = standards.open_sheet(unit, mara, cast.version_id, now)
    with pytest.raises(Problems, match="total"):
        standards.rate(unit, mara, Chances(sheet_id, 1, {"total": 1.5}), now)
    with pytest.raises(Conflict, match="Another round"):
        standards.rate(unit, mara, Chances(sheet_id, 2, {}), now)


def test_judges_teach_here_and_the_head_alone_opens_and_adopts(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara, ines = cast.instructor.actor, colleague(unit, cast, "Ines Roe").actor
    sheet_id = standards.open_sheet(unit, mara, cast.version_id, now)
    for act in (
        lambda: standards.open_sheet(unit, ines, cast.version_id, now),
        lambda: standards.next_round(unit, ines, sheet_id),
        lambda: standards.adopt(unit, ines, Adoption(sheet_id, "x"), now),
        lambda: standards.sheet_of(unit, cast.student.actor, sheet_id),
    ):
        with pytest.raises(RoleNeeded):
            act()
    with pytest.raises(NotFound):
        standards.sheet_of(unit, cast.outsider.actor, sheet_id)
    with pytest.raises(NotFound):
        standards.open_sheet(unit, cast.outsider.actor, cast.version_id, now)
