"""The school's policy: in versions, for its head, and held against papers from then on."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from coursekit.assessment.school_policy import USUAL, SchoolPolicy
from coursekit.problems import Problems
from coursekit.services import answering, policies, preparing, teaching
from coursekit.services.answering import Join
from coursekit.services.errors import Conflict, RoleNeeded
from coursekit.services.policies import PolicyChange
from coursekit.services.results import class_results
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import handed_in
from tests.shell.files.ford import FORD

STRICT = SchoolPolicy(strand_minimums={"kit": 1.0})
LENIENT = SchoolPolicy(pass_share=0.05)


def changed(unit: Unit, cast: Cast, policy: SchoolPolicy, now: datetime, seen: int = 0) -> int:
    change = PolicyChange(policy, "The panel said so", seen)
    return policies.change_policy(unit, cast.instructor.actor, change, now)


def test_a_school_begins_with_the_usual_policy(unit: Unit, cast: Cast) -> None:
    version = policies.policy_in_force(unit, cast.student.actor)

    assert (version.number, version.policy) == (0, USUAL)


def test_a_change_is_a_new_version_and_the_old_ones_stay(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    later = now + timedelta(days=1)
    assert changed(unit, cast, STRICT, now) == 1
    assert changed(unit, cast, LENIENT, later, seen=1) == 2

    found = policies.policy_versions(unit, cast.instructor.actor)
    assert [(one.number, one.policy) for one in found] == [(2, LENIENT), (1, STRICT), (0, USUAL)]
    assert (found[0].made_by, found[0].made_at) == ("Mara Quint", later)
    assert found[0].reason == "The panel said so"


def test_the_same_policy_again_is_no_new_version(unit: Unit, cast: Cast, now: datetime) -> None:
    assert changed(unit, cast, USUAL, now) == 0
    assert len(policies.policy_versions(unit, cast.instructor.actor)) == 1


def test_a_change_from_an_old_form_is_refused(unit: Unit, cast: Cast, now: datetime) -> None:
    changed(unit, cast, STRICT, now)
    with pytest.raises(Conflict):
        changed(unit, cast, LENIENT, now)

    assert policies.policy_in_force(unit, cast.instructor.actor).policy == STRICT


def test_all_that_is_wrong_is_told_at_once(unit: Unit, cast: Cast, now: datetime) -> None:
    wrong = PolicyChange(SchoolPolicy(pass_share=2.0, warn_days=-1), " ", seen=0)
    with pytest.raises(Problems) as problems:
        policies.change_policy(unit, cast.instructor.actor, wrong, now)

    fields = [problem.where.field for problem in problems.value.items]
    assert fields == ["pass_share", "warn_days", "reason"]


def test_only_the_head_changes_it_and_each_school_has_its_own(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    change = PolicyChange(STRICT, "x", seen=0)
    for member in (cast.storekeeper, cast.student):
        with pytest.raises(RoleNeeded):
            policies.change_policy(unit, member.actor, change, now)
    changed(unit, cast, STRICT, now)

    assert policies.policy_in_force(unit, cast.outsider.actor).policy == USUAL


def test_a_paper_is_decided_by_the_policy_in_force_when_it_is_handed_in(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    number = changed(unit, cast, STRICT, now)
    handed_in(unit, cast, now, total="7.3 kN")

    made = class_results(unit, cast.instructor.actor, cast.class_id).students[0].counting[0]
    assert made.decision.rule.policy == number
    assert made.decision.rule.strand_minimums == {"kit": 1.0}
    assert "kit" in [strand.strand for strand in made.decision.short_strands]


def test_a_later_policy_leaves_what_was_decided_before_it(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    handed_in(unit, cast, now, total="7.3 kN")
    before = class_results(unit, cast.instructor.actor, cast.class_id).students[0]
    changed(unit, cast, LENIENT, now)
    after = class_results(unit, cast.instructor.actor, cast.class_id)

    assert after.students[0].counting == before.counting
    assert after.policy.policy == LENIENT


@pytest.mark.parametrize(("own", "share"), [("pass: 75 %\n", 0.75), ("", 0.05)])
def test_the_scenarios_own_pass_mark_goes_before_the_schools(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path, own: str, share: float
) -> None:
    changed(unit, cast, LENIENT, now)
    text = FORD.replace("pass: 75 %\n", own)
    path = tmp_path / "ford-exit.yaml"
    path.write_text(text, encoding="utf-8")
    preparing.load_scenarios(unit, cast.instructor.actor, [path], now)

    assert _handed_in_anew(unit, cast, now) == share


def _handed_in_anew(unit: Unit, cast: Cast, now: datetime) -> float:
    """Teach the newest version to one student, and return the pass mark that was held against."""
    mara = cast.instructor.actor
    version_id = preparing.list_scenarios(unit, mara)[0].version_id
    class_id = teaching.create_class(unit, mara, NewClass(cast.course_id, "x", now.date()), now)
    teaching.choose_scenarios(unit, mara, ScenarioChoice(class_id, (version_id,), seen=1))
    code = teaching.open_class(unit, mara, class_id, now)
    bo = answering.join_class(unit, Join(code, "Bo Reed"), now).person.actor
    place = answering.my_class(unit, bo).scenarios[0].class_scenario_id
    attempt_id = answering.start_attempt(unit, bo, place, now, seed=1)
    answering.submit_attempt(unit, bo, attempt_id, now)
    return class_results(unit, mara, class_id).students[0].counting[0].decision.rule.pass_share
